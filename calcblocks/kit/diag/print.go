package diag

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// A Style wraps text in terminal colours; the zero Style leaves it plain.
type Style struct {
	Fault func(string) string
	Hint  func(string) string
}

// Print writes diagnostics for people: the place and message, the source line with a caret, hints and
// related places. A remark is one line and its hints.
func Print(w io.Writer, all []Diagnostic, style Style) {
	for _, d := range all {
		printOne(w, d, style)
	}
}

func printOne(w io.Writer, d Diagnostic, style Style) {
	message := d.Message
	if d.Severity != Fault {
		message = d.Severity.String() + ": " + message
	}
	fmt.Fprintf(w, "%s%s\n", place(d.At), paint(style.Fault, strings.Map(printable, message)))
	if d.Severity != Remark {
		excerpt(w, d.At)
	}
	for _, hint := range d.Hints {
		fmt.Fprintf(w, "  %s\n", paint(style.Hint, "hint: "+strings.Map(printable, hint)))
	}
	for _, r := range d.Related {
		fmt.Fprintf(w, "  %s%s\n", place(r.At), r.Message)
	}
}

func place(p Position) string {
	name := strings.Map(printable, p.Name())
	switch {
	case name == "":
		return ""
	case p.Line == 0:
		return name + ": "
	}
	return fmt.Sprintf("%s:%d:%d: ", name, p.Line, p.Column)
}

// mostShown is how many characters of a source line are printed: a line may be a whole text.
const mostShown = 160

// excerpt prints the source line without its indentation, and a caret below the column. Tabs are
// printed as one space so that the caret stands under its character. Of a long line it is what stands
// round the column.
func excerpt(w io.Writer, p Position) {
	line := p.File.Line(p.Line)
	text := strings.TrimLeft(line, " \t")
	if strings.TrimSpace(text) == "" {
		return
	}
	column := max(p.Column-1-(len(line)-len(text)), 0)
	if len(text) > mostShown {
		text, column = around(text, column)
	}
	text = strings.Map(printable, strings.ReplaceAll(text, "\t", " "))
	fmt.Fprintf(w, "   %s\n   %s^\n", strings.TrimRight(text, " "), strings.Repeat(" ", column))
}

// around returns what stands round a column of a long text, and the column in that.
func around(text string, column int) (string, int) {
	from, shown := max(column-mostShown/2, 0), 0
	var b strings.Builder
	for _, r := range text {
		switch {
		case shown < from:
		case shown == from+mostShown:
			b.WriteString("…")
			return cutFrom(b.String(), from, column)
		default:
			b.WriteRune(r)
		}
		shown++
	}
	return cutFrom(b.String(), from, column)
}

func cutFrom(text string, from, column int) (string, int) {
	if from == 0 {
		return text, column
	}
	return "…" + text, column - from + 1
}

// printable shows a character that would act on a terminal, or that is none, by the sign for such.
func printable(r rune) rune {
	if r < ' ' || r >= 0x7f && r < 0xa0 {
		return utf8.RuneError
	}
	return r
}

func paint(f func(string) string, s string) string {
	if f == nil {
		return s
	}
	return f(s)
}

type jsonPlace struct {
	File    string `json:"file"`
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Message string `json:"message"`
}

type jsonDiagnostic struct {
	jsonPlace
	Severity string      `json:"severity"`
	Code     string      `json:"code"`
	Hints    []string    `json:"hints"`
	Related  []jsonPlace `json:"related"`
}

// PrintJSON writes diagnostics as one JSON list.
func PrintJSON(w io.Writer, all []Diagnostic) error {
	out := make([]jsonDiagnostic, 0, len(all))
	for _, d := range all {
		j := jsonDiagnostic{
			jsonPlace: jsonPlace{d.At.Name(), d.At.Line, d.At.Column, d.Message},
			Severity:  d.Severity.String(), Code: d.Code,
			Hints: append([]string{}, d.Hints...), Related: []jsonPlace{},
		}
		for _, r := range d.Related {
			j.Related = append(j.Related, jsonPlace{r.At.Name(), r.At.Line, r.At.Column, r.Message})
		}
		out = append(out, j)
	}
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	return enc.Encode(out)
}
