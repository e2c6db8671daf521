package builder

import (
	"io/fs"

	"trug/calcblocks/kit/diag"
)

// A trace is what one step read of the content folder, and what it reported.
type trace struct {
	reads []reading
	said  []diag.Diagnostic
}

// A reading is a file that was read and the sum of what was found: its text, or why there was none.
type reading struct{ name, sum string }

// of returns the files as the step has to see them for its reading to be written down.
func (t *trace) of(files fs.FS) fs.FS { return traced{files, t} }

// report returns the report that the step has to use for its words to be written down.
func (t *trace) report(to func(diag.Diagnostic)) func(diag.Diagnostic) {
	return func(d diag.Diagnostic) {
		t.said = append(t.said, d)
		to(d)
	}
}

// sum stands for everything that was read, in order.
func (t *trace) sum() string {
	var parts []string
	for _, r := range t.reads {
		parts = append(parts, r.name, r.sum)
	}
	return sumOf(parts...)
}

// holds says whether every file that was read is as it was.
func (t *trace) holds(files fs.FS) bool {
	for _, r := range t.reads {
		if text, err := fs.ReadFile(files, r.name); sumOfFile(text, err) != r.sum {
			return false
		}
	}
	return true
}

// faulty says whether the step reported a fault.
func (t *trace) faulty() bool {
	for _, d := range t.said {
		if d.Severity == diag.Fault {
			return true
		}
	}
	return false
}

// traced are files whose reading is written down.
type traced struct {
	fs.FS
	by *trace
}

// ReadFile reads a file and writes down what was found.
func (t traced) ReadFile(name string) ([]byte, error) {
	text, err := fs.ReadFile(t.FS, name)
	t.by.reads = append(t.by.reads, reading{name, sumOfFile(text, err)})
	return text, err
}
