package history

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/units"
)

const head = `# The numbers as they were when "trug changes --record" was run. The program writes this file;
# cards that were printed earlier are compared with it.
`

// Write returns the file: a list of records.
func (h History) Write() []byte {
	var b strings.Builder
	b.WriteString(head)
	for _, r := range h {
		fmt.Fprintf(&b, "- on: %s\n  block: %s\n  title: %s\n  stamp: %s\n", r.On.Format(time.DateOnly), r.Block, quoted(r.Title), r.Stamp)
		writeEntries(&b, "numbers", r.Numbers)
		writeEntries(&b, "rests on", r.Basis)
	}
	return []byte(b.String())
}

func writeEntries(b *strings.Builder, name string, entries []Entry) {
	if len(entries) == 0 {
		return
	}
	fmt.Fprintf(b, "  %s:\n", name)
	for _, e := range entries {
		fmt.Fprintf(b, "    %s: %s\n", quoted(e.Name), quoted(e.Text))
	}
}

// quoted writes a text in double quotes as YAML reads them: control characters are escaped, all else stays.
func quoted(s string) string {
	text := strconv.Quote(s)
	if strings.IndexFunc(s, func(r rune) bool { return r < ' ' || r == '\x7f' }) < 0 {
		return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
	}
	return text
}

var stampText = regexp.MustCompile(`^[a-z0-9]+(?:-[a-z0-9]+)*$`)

// writtenHere is the hint for whatever is wrong in the file.
const writtenHere = "the program writes this file: put back the one that it wrote"

// Read returns the history that a file holds; what is wrong with it is reported.
func Read(file *diag.File, report func(diag.Diagnostic)) History {
	told := func(d diag.Diagnostic) {
		d.Hints = []string{writtenHere}
		report(d)
	}
	source := form.FileSource(file, units.Parser{Set: units.US}, told)
	source.Endless = true
	root := form.Read(source)
	if root == nil {
		return nil
	}
	var out History
	for _, item := range root.Items() {
		if r, ok := readRecord(item); ok {
			out = append(out, r)
		}
	}
	return out
}

func readRecord(n *form.Node) (Record, bool) {
	m := n.Fields("on", "block", "title", "stamp", "numbers", "rests on")
	on, okOn := form.Value(m.Need("on", writtenHere), units.ReadDate)
	block, okBlock := m.Need("block", writtenHere).Text()
	stamp, okStamp := form.Value(m.Need("stamp", writtenHere), readStamp)
	title, _ := m.Need("title", writtenHere).Text()
	r := Record{On: on, Block: block, Title: title, Stamp: stamp}
	r.Numbers, r.Basis = readEntries(m.Get("numbers")), readEntries(m.Get("rests on"))
	return r, okOn && okBlock && okStamp
}

func readStamp(text string) (string, error) {
	if stampText.MatchString(text) {
		return text, nil
	}
	return "", units.Faultf(0, "bad-stamp", writtenHere, "%q is not a stamp", text)
}

func readEntries(n *form.Node) []Entry {
	if n == nil {
		return nil
	}
	var out []Entry
	for _, e := range n.Mapping().Entries {
		if text, ok := e.Value.Text(); ok {
			out = append(out, Entry{e.Name, text})
		}
	}
	return out
}
