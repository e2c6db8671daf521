package form

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/units"
)

var record = flag.Bool("record", false, "write what is printed as what is wanted")

// A trial is one text of an archive and what must come of it.
type trial struct {
	name, text, want string
}

// trials reads an archive: each file is a text, followed by a file "want".
func trials(t *testing.T, path string) []trial {
	t.Helper()
	archive, err := txtar.ParseFile(path)
	require.NoError(t, err)
	require.NotEmpty(t, archive.Files)
	var out []trial
	for i := 0; i < len(archive.Files); i += 2 {
		text, want := archive.Files[i], archive.Files[i+1]
		require.Equal(t, "want", want.Name, text.Name)
		out = append(out, trial{text.Name, string(text.Data), string(want.Data)})
	}
	return out
}

// check compares what becomes of each text with what is wanted, or records it.
func check(t *testing.T, path string, become func(trial) string) {
	t.Helper()
	var recorded txtar.Archive
	for _, c := range trials(t, path) {
		got := become(c)
		recorded.Files = append(recorded.Files, txtar.File{Name: c.name, Data: []byte(c.text)}, txtar.File{Name: "want", Data: []byte(got)})
		if !*record {
			assert.Equal(t, c.want, got, c.name)
		}
	}
	if *record {
		require.NoError(t, os.WriteFile(path, txtar.Format(&recorded), 0o644))
	}
}

func read(text string) (*Node, *diag.List) {
	var l diag.List
	return Read(FileSource(diag.NewFile("note.md", text), units.Parser{Set: units.US}, l.Report)), &l
}

// dump writes a tree as its author would know it, reading every text on the way. A field text must be one; the fields amount, quoted,
// single, ranged and the members of list are read as amounts.
func dump(n *Node, key string) string {
	switch {
	case key == "text":
		t, _ := n.Text()
		return fmt.Sprintf("%q", t)
	case n.IsMapping():
		var parts []string
		for _, e := range n.Mapping().Entries {
			parts = append(parts, e.Name+"="+dump(e.Value, e.Name))
		}
		return "{" + strings.Join(parts, " ") + "}"
	case n.IsList() && key == "steps":
		return fmt.Sprintf("%q", n.Texts())
	case n.IsList():
		var parts []string
		for _, item := range n.Items() {
			parts = append(parts, dump(item, key))
		}
		return "[" + strings.Join(parts, " ") + "]"
	case key == "amount", key == "quoted", key == "single", key == "ranged", key == "list":
		a, _ := Value(n, n.Values().Amount)
		return "<" + a.Text + ">"
	}
	t, _ := n.Text()
	return fmt.Sprintf("%q", t)
}

// Each trap is printed with its place, its line and its hints, as the author sees it.
func TestTraps(t *testing.T) {
	check(t, "testdata/traps.txtar", func(c trial) string {
		n, l := read(c.text)
		switch {
		case n.IsText():
			n.Fields("title") // what a block does with a text where keys are due
		case n != nil:
			dump(n, "")
		}
		var b strings.Builder
		diag.Print(&b, l.Sorted(), diag.Style{})
		assert.NotEmpty(t, b.String(), "%s: nothing is reported", c.name)
		for _, d := range l.Sorted() {
			assert.NotEmpty(t, d.Hints, "%s: %s", c.name, d.Message)
		}
		return b.String()
	})
}

// What is legal gives its tree and not a word.
func TestLegal(t *testing.T) {
	check(t, "testdata/legal.txtar", func(c trial) string {
		n, l := read(c.text)
		got := dump(n, "") + "\n"
		assert.Empty(t, l.Sorted(), c.name)
		return got
	})
}
