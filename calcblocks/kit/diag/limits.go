package diag

import (
	"errors"
	"fmt"
	"io/fs"
)

// How large a file of a handbook may be, in bytes. A thick book has a megabyte of text; a day's readings of a
// hundred years have two; no photograph of a hand camera has sixty. What is larger came there by mistake, and
// would fill the memory.
const (
	MostText  = 1 << 20
	MostTable = 8 << 20
	MostFile  = 64 << 20
)

// What can be in the way of reading a file, beside what the system says.
var ErrNoFile = errors.New("it is neither a file nor a folder")

// TooLarge is the error of a file with more bytes than the most.
type TooLarge struct{ Bytes, Most int64 }

func (e TooLarge) Error() string {
	return fmt.Sprintf("it has %d bytes, more than %d", e.Bytes, e.Most)
}

// Unread returns the fault of a file that cannot be read; what is "this note" or "this file".
func Unread(at Position, what string, err error) Diagnostic {
	var in *fs.PathError
	if errors.As(err, &in) {
		err = in.Err
	}
	d := Errorf(at, "cannot-read", "cannot read %s: %s", what, err)
	if large := (TooLarge{}); errors.As(err, &large) {
		return d.Hint("make several files of it, of at most %d bytes each", large.Most)
	}
	return d
}
