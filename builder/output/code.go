package output

import (
	"fmt"
	"strings"

	qr "github.com/piglig/go-qr"
)

// A Code is a QR code (ISO/IEC 18004) as a drawing whose unit is a module: Side is its side with a quiet zone
// of four modules, Path its dark modules.
type Code struct {
	Side int
	Path string
}

// quiet is the white border that the standard asks for, in modules.
const quiet = 4

// QR returns the code of an address. Only ASCII is taken: readers disagree on anything else. An address too
// long for a code is an error.
func QR(address string) (Code, error) {
	for _, r := range address {
		if r < ' ' || r > '~' {
			return Code{}, fmt.Errorf("the address %q holds %q, which not every reader of codes knows", address, r)
		}
	}
	code, err := qr.EncodeText(address, qr.Medium)
	if err != nil {
		return Code{}, fmt.Errorf("the address %q does not fit into a code: %w", address, err)
	}
	size := code.Size()
	var path strings.Builder
	for y := range size {
		for x := 0; x < size; x++ {
			run := 0
			for x+run < size && code.Module(x+run, y) {
				run++
			}
			if run > 0 {
				fmt.Fprintf(&path, "M%d %dh%dv1h-%dz", x+quiet, y+quiet, run, run)
				x += run
			}
		}
	}
	return Code{Side: size + 2*quiet, Path: path.String()}, nil
}
