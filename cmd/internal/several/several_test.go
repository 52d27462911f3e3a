package several

import (
	"fmt"
	"reflect"
	"testing"
)

// A fault of the program in one call leaves the others be.
func TestOthersOutliveFaults(t *testing.T) {
	for _, workers := range []int{1, 3} {
		done := make([]int, 50)
		faults := Each(len(done), workers, func(i int) {
			if i%7 == 3 {
				panic(fmt.Sprint("broken ", i))
			}
			done[i] = i
		})
		for i, fault := range faults {
			want, value := any(nil), i
			if i%7 == 3 {
				want, value = fmt.Sprint("broken ", i), 0
			}
			if !reflect.DeepEqual(fault, want) || done[i] != value {
				t.Errorf("%d workers, call %d: fault %v, did %d", workers, i, fault, done[i])
			}
		}
	}
	if faults := Each(0, 4, func(int) { t.Error("called") }); len(faults) > 0 {
		t.Errorf("got %v", faults)
	}
}
