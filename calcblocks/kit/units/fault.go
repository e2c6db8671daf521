package units

import "fmt"

// A Fault is what is wrong with the text of a value. Offset counts characters from the start of the
// text to the offending part.
type Fault struct {
	Offset  int
	Code    string
	Message string
	Hints   []string
}

func (f *Fault) Error() string { return f.Message }

// Faultf returns a fault at an offset; hint may be empty.
func Faultf(offset int, code, hint, format string, args ...any) *Fault {
	f := &Fault{Offset: offset, Code: code, Message: fmt.Sprintf(format, args...)}
	if hint != "" {
		f.Hints = []string{hint}
	}
	return f
}

// At returns the fault moved n characters to the right.
func (f *Fault) At(n int) *Fault {
	if f != nil {
		f.Offset += n
	}
	return f
}
