package diag

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"
)

// Severity says whether a diagnostic stops publishing.
type Severity int

const (
	// Fault stops publishing.
	Fault Severity = iota
	// Doubt is printed by proof and stops nothing.
	Doubt
	// Remark is for the author to know: nothing is wrong.
	Remark
)

func (s Severity) String() string {
	return [...]string{"fault", "doubt", "remark"}[s]
}

// A Diagnostic is one thing that is wrong or doubtful. Message is lower case, has no final stop and
// quotes the offending value; each hint says what would help.
type Diagnostic struct {
	At       Position
	Severity Severity
	Code     string // stable, kebab-case
	Message  string
	Hints    []string
	Related  []Related
}

// Related is a second place that a diagnostic speaks of, such as the first of two equal keys.
type Related struct {
	At      Position
	Message string
}

// Errorf returns a fault at a position.
func Errorf(at Position, code, format string, args ...any) Diagnostic {
	return Diagnostic{At: at, Code: code, Message: fmt.Sprintf(format, args...)}
}

// Hint returns the diagnostic with one more hint; an empty hint is left out.
func (d Diagnostic) Hint(format string, args ...any) Diagnostic {
	if hint := fmt.Sprintf(format, args...); hint != "" {
		d.Hints = append(slices.Clone(d.Hints), hint)
	}
	return d
}

// Also returns the diagnostic with one more related place.
func (d Diagnostic) Also(at Position, format string, args ...any) Diagnostic {
	d.Related = append(slices.Clone(d.Related), Related{at, fmt.Sprintf(format, args...)})
	return d
}

// A List gathers diagnostics. Its Report method is what the rest of the program is handed; several goroutines
// may call it.
type List struct {
	guard sync.Mutex
	all   []Diagnostic
	seen  map[spot]bool
}

// spot is what makes two diagnostics the same.
type spot struct {
	file          string
	line, column  int
	code, message string
}

// Report adds a diagnostic; one that is already there is not added again.
func (l *List) Report(d Diagnostic) {
	at := spot{d.At.Name(), d.At.Line, d.At.Column, d.Code, d.Message}
	l.guard.Lock()
	defer l.guard.Unlock()
	if l.seen[at] {
		return
	}
	if l.seen == nil {
		l.seen = map[spot]bool{}
	}
	l.seen[at] = true
	l.all = append(l.all, d)
}

// Sorted returns all diagnostics by file, line and column, whatever the order in which they were reported.
func (l *List) Sorted() []Diagnostic {
	l.guard.Lock()
	out := slices.Clone(l.all)
	l.guard.Unlock()
	slices.SortStableFunc(out, func(a, b Diagnostic) int {
		switch {
		case a.At.before(b.At):
			return -1
		case b.At.before(a.At):
			return 1
		}
		return cmp.Or(strings.Compare(a.Message, b.Message), strings.Compare(a.Code, b.Code))
	})
	return out
}

// Faults counts the diagnostics that stop publishing.
func (l *List) Faults() int {
	l.guard.Lock()
	defer l.guard.Unlock()
	n := 0
	for _, d := range l.all {
		if d.Severity == Fault {
			n++
		}
	}
	return n
}
