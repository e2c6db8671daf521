package schema_test

import (
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/schema"
	"trug/calcblocks/kit/units"
)

// drawn returns the schema of a reader as JSON, without its title and description.
func drawn(read func(*form.Node)) string {
	return string(data.JSON(schema.Of(schema.Subject{Title: "t", Read: read})[2:]))
}

func assertDrawn(t *testing.T, want string, read func(*form.Node)) {
	t.Helper()
	assert.JSONEq(t, want, drawn(read))
}

const anyText = `"type": ["string", "number", "boolean"]`

// yesOrNo reads one of two words.
func yesOrNo(text string) (bool, error) {
	if text == "yes" || text == "no" {
		return text == "yes", nil
	}
	return false, units.Faultf(0, "not-yes-or-no", "write yes or no", "%q is neither", text)
}

// TestTexts: a reader of free text says no more; one that refuses some says why, and what it takes.
func TestTexts(t *testing.T) {
	assertDrawn(t, `{`+anyText+`}`, func(n *form.Node) { n.Text() })
	assertDrawn(t, `{`+anyText+`, "description": "write yes or no", "examples": ["yes", "no"]}`, func(n *form.Node) { form.Value(n, yesOrNo) })
	assertDrawn(t, `{`+anyText+`, "description": "write a number and a unit, such as \"5 cm\"", "examples": ["5 cm"]}`,
		func(n *form.Node) { form.Value(n, n.Values().Length) })
}

// TestLists: a list, and a list or one text for it.
func TestLists(t *testing.T) {
	assertDrawn(t, `{"type": "array", "items": {`+anyText+`}}`, func(n *form.Node) {
		for _, item := range n.Items() {
			item.Text()
		}
	})
	assertDrawn(t, `{"anyOf": [{`+anyText+`}, {"type": "array", "items": {`+anyText+`}}]}`, func(n *form.Node) { n.Texts() })
	assertDrawn(t, `{"type": "array", "items": true}`, func(n *form.Node) { n.Items() })
}

// TestKeys: the known keys and no others; what must be there; a value that is kept unread is left open.
func TestKeys(t *testing.T) {
	assertDrawn(t, `{
		"type": "object",
		"properties": {"name": {`+anyText+`}, "kept": true, "needed": {"description": "write it"}},
		"additionalProperties": false,
		"required": ["needed"]
	}`, func(n *form.Node) {
		m := n.Fields("name", "kept", "needed")
		m.Get("name").Text()
		m.Need("needed", "write it")
	})
}

// TestOneOfSeveral: exactly one of some keys.
func TestOneOfSeveral(t *testing.T) {
	assertDrawn(t, `{
		"type": "object", "properties": {"a": true, "b": true}, "additionalProperties": false,
		"allOf": [{"anyOf": [{"required": ["a"]}, {"required": ["b"]}]}, {"not": {"required": ["a", "b"]}}]
	}`, func(n *form.Node) { n.Fields("a", "b").OneOf("keep one", "a", "b") })
}

// TestWhatGoesWithWhat: a key that needs another, and a pair that quarrels whatever stands beside it. A pair
// that a third key reconciles is let be, and so is one that quarrels for some values only.
func TestWhatGoesWithWhat(t *testing.T) {
	assertDrawn(t, `{
		"type": "object", "properties": {"amount": true, "of": true}, "additionalProperties": false,
		"dependentRequired": {"amount": ["of"]}
	}`, func(n *form.Node) {
		if m := n.Fields("amount", "of"); m.Get("amount") != nil {
			m.Need("of", "write of what")
		}
	})
	word := `{` + anyText + `, "description": "write yes or no", "examples": ["yes", "no"]}`
	quarrel := func(when func(a, b bool, peace *form.Node) bool) func(n *form.Node) {
		return func(n *form.Node) {
			m := n.Fields("a", "b", "peace")
			a, okA := form.Value(m.Get("a"), yesOrNo)
			b, okB := form.Value(m.Get("b"), yesOrNo)
			if okA && okB && when(a, b, m.Get("peace")) {
				m.Get("b").Fault("quarrel", "keep one of the two", "both")
			}
		}
	}
	head := `"type": "object", "properties": {"a": ` + word + `, "b": ` + word + `, "peace": true}, "additionalProperties": false`
	assertDrawn(t, `{`+head+`, "allOf": [{"not": {"required": ["a", "b"]}}]}`, quarrel(func(bool, bool, *form.Node) bool { return true }))
	assertDrawn(t, `{`+head+`}`, quarrel(func(_, _ bool, peace *form.Node) bool { return peace == nil }))
	assertDrawn(t, `{`+head+`}`, quarrel(func(a, b bool, _ *form.Node) bool { return a != b }))
}

// TestFreeKeys: keys that the author chooses, and among them those of a shape that means something else.
func TestFreeKeys(t *testing.T) {
	several := regexp.MustCompile(`^several .+$`)
	assertDrawn(t, `{
		"type": "object",
		"patternProperties": {"^several .+$": {"type": "array", "items": {`+anyText+`}}},
		"additionalProperties": {`+anyText+`}
	}`, func(n *form.Node) {
		for _, e := range n.Mapping().Entries {
			if e.Match(several, "several things") == nil {
				e.Value.Text()
				continue
			}
			for _, item := range e.Value.Items() {
				item.Text()
			}
		}
	})
}

// TestValueBesideAnother: a value that is read only beside another is found there.
func TestValueBesideAnother(t *testing.T) {
	assertDrawn(t, `{
		"type": "object",
		"properties": {"shape": {`+anyText+`}, "fill": {`+anyText+`, "description": "write yes or no", "examples": ["yes", "no"]}},
		"additionalProperties": false
	}`, func(n *form.Node) {
		m := n.Fields("shape", "fill")
		if _, ok := m.Get("shape").Text(); ok {
			form.Value(m.Get("fill"), yesOrNo)
		}
	})
}

// TestWithout: what a wrapper takes away for itself is known too.
func TestWithout(t *testing.T) {
	assertDrawn(t, `{
		"type": "object", "properties": {"id": {`+anyText+`}, "title": {`+anyText+`}}, "additionalProperties": false, "required": ["id"]
	}`, func(n *form.Node) {
		n.Mapping().Need("id", "write the id").Text()
		n.Without("id").Fields("title").Get("title").Text()
	})
}

// TestDocExplainsKeys: the words of a doc's list stand beside the keys, those of its formulas do not.
func TestDocExplainsKeys(t *testing.T) {
	doc := "# k\n\nSays.\n\n```yaml\n- a: 1\n```\n\n- a or b: the first,\n  in two lines. c: the third.\n\n## Formulas\n\n- d: not this.\n"
	read := func(n *form.Node) { n.Fields("a", "b", "c", "d") }
	tree := schema.Of(schema.Subject{Title: "k", About: "Says.", Doc: doc, Empty: true, Read: read})
	assert.JSONEq(t, `{"title": "k", "description": "Says.", "anyOf": [{"type": "null"}, {
		"type": "object", "additionalProperties": false, "properties": {
			"a": {"description": "the first, in two lines."}, "b": {"description": "the first, in two lines."},
			"c": {"description": "the third."}, "d": true}
	}]}`, string(data.JSON(tree)))
}

// TestDocument: one subject is a document of its own, all are the definitions of one.
func TestDocument(t *testing.T) {
	text := schema.Subject{Title: "a", About: "A text.", Read: func(n *form.Node) { n.Text() }}
	assert.JSONEq(t, `{"$schema": "`+schema.Draft+`", "title": "a", "description": "A text.", `+anyText+`}`, string(data.JSON(schema.Whole(text))))
	assert.JSONEq(t, `{"$schema": "`+schema.Draft+`", "title": "all", "$defs": {"a": {"title": "a", "description": "A text.", `+anyText+`}}}`,
		string(data.JSON(schema.All("all", []schema.Subject{text}))))
}
