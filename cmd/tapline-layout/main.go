// Command tapline-layout says where the boxes of a diagram should stand. It
// reads one place.Request as JSON on its input, writes one place.Answer as JSON
// on its output, and is started by "tapline draw" only. It is the one program
// that links the layout library.
package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"

	"tapline/cmd/internal/draw/place"
)

// maxInput bounds the request, in bytes; the largest graph allowed needs less.
const maxInput = 4 << 20

func main() {
	if err := run(context.Background(), os.Stdin, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "tapline-layout:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, in io.Reader, out io.Writer) error {
	data, err := io.ReadAll(io.LimitReader(in, maxInput+1))
	if err != nil {
		return err
	}
	if len(data) > maxInput {
		return fmt.Errorf("the request is longer than %d bytes", maxInput)
	}
	var r place.Request
	if err := json.Unmarshal(data, &r); err != nil {
		return fmt.Errorf("the request is not one graph as JSON: %w", err)
	}
	if err := r.Check(); err != nil {
		return err
	}
	a, err := layOut(ctx, &r)
	if err != nil {
		return err
	}
	return json.NewEncoder(out).Encode(a)
}
