package lang

import (
	"crypto/sha256"
	"encoding/binary"
	"math/bits"
)

// Draws. The number that draw i gives a variable depends on the seed, the names of
// the spread and of the variable, and i; on nothing else, so that draws may be made
// in any order and any place, and a tolerance added to one device leaves those of
// the others as they are.
//
// The generator is Philox4x32-10: J. K. Salmon, M. A. Moraes, R. O. Dror, D. E. Shaw,
// "Parallel random numbers: as easy as 1, 2, 3", SC'11. The seed and the names make
// its key, i is its counter.

// philox gives the four words of a counter under a key.
func philox(counter [4]uint32, key [2]uint32) [4]uint32 {
	const (
		m0, m1 = 0xD2511F53, 0xCD9E8D57 // multipliers
		w0, w1 = 0x9E3779B9, 0xBB67AE85 // what each round adds to the key
	)
	c := counter
	for range 10 {
		h0, l0 := bits.Mul32(m0, c[0])
		h1, l1 := bits.Mul32(m1, c[2])
		c = [4]uint32{h1 ^ c[1] ^ key[0], l1, h0 ^ c[3] ^ key[1], l0}
		key[0] += w0
		key[1] += w1
	}
	return c
}

// drawKey is the key of a variable.
func drawKey(seed uint64, spread, variable string) uint64 {
	h := sha256.New()
	h.Write(binary.LittleEndian.AppendUint64(nil, seed))
	h.Write([]byte(spread))
	h.Write([]byte{0})
	h.Write([]byte(variable))
	return binary.LittleEndian.Uint64(h.Sum(nil))
}

// uniform is what draw i takes under a key: from 0 up to, not including, 1, in steps
// of 2^-53.
func uniform(key uint64, i int) float64 {
	c := philox([4]uint32{uint32(i), uint32(uint64(i) >> 32)}, [2]uint32{uint32(key), uint32(key >> 32)})
	return float64((uint64(c[1])<<32|uint64(c[0]))>>11) * 0x1p-53
}
