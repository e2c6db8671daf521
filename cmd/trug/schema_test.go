package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"trug/builder"
	"trug/calcblocks"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/schema"
	"trug/calcblocks/kit/units"
)

// A judged subject is a schema beside the reader that it was drawn up of.
type judged struct {
	schema.Subject
	tree map[string]any
}

// judgedSubjects returns every subject with its schema as JSON says it.
var judgedSubjects = sync.OnceValue(func() map[string]judged {
	out := map[string]judged{}
	for _, s := range subjects() {
		var tree map[string]any
		if err := json.Unmarshal(data.JSON(schema.Whole(s)), &tree); err != nil || tree["$schema"] != schema.Draft {
			panic(fmt.Sprint(s.Title, err, tree["$schema"]))
		}
		out[s.Title] = judged{s, tree}
	}
	return out
})

// faults returns how many faults the reader finds in a text. It has no pots at hand, so their ids are none.
func (j judged) faults(text string) int {
	var list diag.List
	root := form.Read(form.FileSource(diag.NewFile("x.yaml", text), units.Parser{Set: units.US}, list.Report))
	if list.Faults() == 0 && root != nil {
		j.Read(root)
	}
	unknown := len(slices.DeleteFunc(list.Sorted(), func(d diag.Diagnostic) bool { return d.Code != "unknown-pot" }))
	return list.Faults() - unknown
}

// accepts says whether the schema accepts a value. A keyword that it does not know is a failure of the test.
func accepts(t *testing.T, tree, value any) bool {
	t.Helper()
	if open, isFlag := tree.(bool); isFlag {
		return open
	}
	ok := true
	for keyword, arg := range tree.(map[string]any) {
		switch keyword {
		case "$schema", "title", "description", "examples":
		case "type":
			ok = ok && slices.Contains(listOf(arg), any(typeOf(value)))
		case "items":
			for _, item := range items(value) {
				ok = ok && accepts(t, arg, item)
			}
		case "required":
			ok = ok && has(value, listOf(arg))
		case "properties", "patternProperties": // with additionalProperties
			assert.Contains(t, tree, "additionalProperties")
		case "additionalProperties":
			for key, member := range members(value) {
				ok = ok && accepts(t, memberSchema(tree.(map[string]any), key), member)
			}
		case "dependentRequired":
			for key, needs := range arg.(map[string]any) {
				ok = ok && (!has(value, []any{key}) || has(value, listOf(needs)))
			}
		case "allOf":
			for _, one := range arg.([]any) {
				ok = ok && accepts(t, one, value)
			}
		case "anyOf":
			ok = ok && slices.ContainsFunc(arg.([]any), func(one any) bool { return accepts(t, one, value) })
		case "not":
			ok = ok && !accepts(t, arg, value)
		default:
			t.Fatalf("the keyword %q is not judged", keyword)
		}
	}
	return ok
}

func listOf(v any) []any {
	if l, ok := v.([]any); ok {
		return l
	}
	return []any{v}
}

func typeOf(v any) string {
	switch v.(type) {
	case map[string]any:
		return "object"
	case []any:
		return "array"
	case nil:
		return "null"
	}
	return "string"
}

func items(v any) []any { l, _ := v.([]any); return l }

func members(v any) map[string]any { m, _ := v.(map[string]any); return m }

// has says whether a value, where it is a mapping, has keys.
func has(v any, keys []any) bool {
	m, isMapping := v.(map[string]any)
	return !isMapping || !slices.ContainsFunc(keys, func(key any) bool { _, there := m[key.(string)]; return !there })
}

// memberSchema returns the schema of one member of a mapping.
func memberSchema(tree map[string]any, key string) any {
	if properties, ok := tree["properties"].(map[string]any); ok && properties[key] != nil {
		return properties[key]
	}
	patterns, _ := tree["patternProperties"].(map[string]any)
	for pattern, s := range patterns {
		if regexp.MustCompile(pattern).MatchString(key) {
			return s
		}
	}
	return tree["additionalProperties"]
}

// plain returns a YAML text as values; every scalar is text, as the readers take it.
func plain(t *testing.T, text string) any {
	t.Helper()
	var node yaml.Node
	require.NoError(t, yaml.Unmarshal([]byte(text), &node), text)
	if node.Kind == 0 {
		return nil
	}
	return plainNode(node.Content[0])
}

func plainNode(n *yaml.Node) any {
	switch n.Kind {
	case yaml.MappingNode:
		out := map[string]any{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			out[n.Content[i].Value] = plainNode(n.Content[i+1])
		}
		return out
	case yaml.SequenceNode:
		out := []any{}
		for _, item := range n.Content {
			out = append(out, plainNode(item))
		}
		return out
	}
	return n.Value
}

// A specimen is a text that a reader takes.
type specimen struct{ subject, text, from string }

// specimens returns the demo's files and blocks, the examples of the docs, and the cases of the kinds.
func specimens(t *testing.T) []specimen {
	t.Helper()
	var out []specimen
	for _, name := range []string{"handbook", "cupboard", "pots"} {
		text, err := os.ReadFile(filepath.Join("../../content", name+".yaml"))
		require.NoError(t, err)
		out = append(out, specimen{name, string(text), "content"})
	}
	h, err := builder.Read("../../content", today)
	require.NoError(t, err)
	for _, p := range h.Blocks {
		subject := p.Kind.Name
		if p.Note == nil {
			subject = "recipe-file"
		}
		out = append(out, specimen{subject, p.Source, p.Place()})
	}
	for _, k := range calcblocks.All() {
		for _, m := range firstExample.FindAllStringSubmatch(k.Doc, -1) {
			out = append(out, specimen{k.Name, m[1], k.Name + "/doc.md"})
		}
		cases, err := filepath.Glob("../../calcblocks/" + k.Name + "/testdata/*.txtar")
		require.NoError(t, err)
		for _, file := range cases {
			a, err := txtar.ParseFile(file)
			require.NoError(t, err)
			for _, f := range a.Files {
				if f.Name == "in.yaml" {
					out = append(out, specimen{k.Name, string(f.Data), file})
				}
			}
		}
	}
	return out
}

// TestSchemasAcceptWhatIsRead: what the reader of a file or a kind takes without a fault, its schema accepts.
func TestSchemasAcceptWhatIsRead(t *testing.T) {
	all := judgedSubjects()
	seen := map[string]int{}
	for _, s := range specimens(t) {
		j := all[s.subject]
		if j.faults(s.text) == 0 {
			seen[s.subject]++
			assert.True(t, accepts(t, j.tree, plain(t, s.text)), "%s from %s:\n%s", s.subject, s.from, s.text)
		}
	}
	for name := range all {
		assert.Positive(t, seen[name], "no specimen of %s", name)
	}
}

// TestSchemasRefuseNothingThatIsRead spoils each specimen of the demo and the docs at each of its places: a key left out, a key
// misspelt, a text, a list and a mapping in the place of a value. Where the schema refuses the result, the
// reader has a fault to report; and a misspelt key of the first level is always refused.
func TestSchemasRefuseNothingThatIsRead(t *testing.T) {
	all := judgedSubjects()
	refused := 0
	for _, s := range specimens(t) {
		j := all[s.subject]
		if strings.HasSuffix(s.from, ".txtar") || j.faults(s.text) > 0 {
			continue
		}
		for _, value := range spoilt(plain(t, s.text)) {
			text, err := yaml.Marshal(value)
			require.NoError(t, err)
			if !accepts(t, j.tree, value) {
				refused++
				assert.Positive(t, j.faults(string(text)), "the schema of %s refuses what is read:\n%s", s.subject, text)
			}
		}
	}
	assert.Greater(t, refused, 500)
}

// spoilt returns copies of a value, each spoilt at one place.
func spoilt(v any) []any {
	var out []any
	switch v := v.(type) {
	case map[string]any:
		keys := slices.Sorted(maps.Keys(v))
		for _, key := range keys[:min(len(keys), 10)] {
			member := v[key]
			without := maps.Clone(v)
			delete(without, key)
			misspelt := maps.Clone(without)
			misspelt[key+"z"] = member
			out = append(out, without, misspelt)
			for _, other := range append(spoilt(member), "?", []any{"?"}, map[string]any{"?": "?"}) {
				changed := maps.Clone(v)
				changed[key] = other
				out = append(out, changed)
			}
		}
	case []any:
		for i := range min(len(v), 2) {
			for _, other := range spoilt(v[i]) {
				changed := slices.Clone(v)
				changed[i] = other
				out = append(out, changed)
			}
		}
	}
	return out
}

// TestSchemasRefuseUnknownKeys: beside every known key of a block or a file, an unknown one is refused.
func TestSchemasRefuseUnknownKeys(t *testing.T) {
	all := judgedSubjects()
	for _, s := range specimens(t) {
		value, isMapping := plain(t, s.text).(map[string]any)
		if isMapping && all[s.subject].faults(s.text) == 0 && s.subject != "cupboard" && s.subject != "pots" {
			value["surely unknown"] = "?"
			assert.False(t, accepts(t, all[s.subject].tree, value), "%s from %s", s.subject, s.from)
		}
	}
	assert.False(t, accepts(t, all["pots"].tree, plain(t, "tub: {holds: 20 L, hold: 3}")))
	assert.False(t, accepts(t, all["cupboard"].tree, plain(t, "gypsum: {stok: 20 g}")))
	assert.False(t, accepts(t, all["diary"].tree, plain(t, "- {on: 2027-05-12, pot: tub, did: noted, nots: x}")))
}

// TestSchemaRules: what a schema can say beside the keys, on the readers' own examples.
func TestSchemaRules(t *testing.T) {
	all := judgedSubjects()
	for _, c := range []struct {
		subject, text string
		want          bool
	}{
		{"recipe", "{title: T, for: 20 L, amounts: {gypsum: 1 tbsp}}", true},
		{"recipe", "{for: 20 L, amounts: {gypsum: 1 tbsp}}", false},
		{"recipe", "{title: T, for: 20 L, amounts: {'potash, one of': {kelp-meal: 1 cup, gypsum: 1 g}}}", true},
		{"recipe", "{title: T, for: 20 L, amounts: {'potash': {kelp-meal: 1 cup, gypsum: 1 g}}}", false},
		{"recipe", "{title: T, for: 20 L, amounts: {gypsum: 1 g}, top: {compost: c, depth: 5 cm, share: 25 %}}", false},
		{"recipe", "{title: T, for: 20 L, amounts: {gypsum: 1 g}, top: {compost: c}}", false},
		{"topup", "{pot: tub, with: mix}", true},
		{"topup", "{pot: tub, container: 20 L, with: mix}", false},
		{"topup", "{pot: tub, take: 5 cm, fresh: 25 %, with: mix}", false},
		{"topup", "{with: mix}", false},
		{"pots", "tub: {holds: 20 L}", true},
		{"pots", "tub: {holds: 20 L, shape: 20 L}", false},
		{"pots", "tub: {name: Tub}", false},
		{"pots", "tub: [20 L]", false},
		{"reading", "{ph: 6.2}", true},
		{"reading", "{ec: 2}", false},
		{"reading", "{ec: 2, method: sme}", true},
		{"dates", "{season: 2027}", false},
		{"dates", "{plan: p}", true},
		{"shopping", "", true},
		{"handbook", "measures: us", false},
	} {
		assert.Equal(t, c.want, accepts(t, all[c.subject].tree, plain(t, c.text)), "%s %s", c.subject, c.text)
	}
}

// TestSchemaExamples: words that a reader chooses among are offered as examples, and the doc explains the key.
func TestSchemaExamples(t *testing.T) {
	var tree map[string]any
	require.NoError(t, json.Unmarshal(data.JSON(schema.All("all", subjects())), &tree))
	defs := tree["$defs"].(map[string]any)
	assert.Len(t, defs, len(subjects()))
	method := defs["reading"].(map[string]any)["properties"].(map[string]any)["method"].(map[string]any)
	assert.Equal(t, []any{"sme", "pour-through", "1:2", "1:5"}, method["examples"])
	assert.True(t, strings.HasPrefix(fmt.Sprint(method["description"]), "sme (saturated media extract)"))
	did := defs["diary"].(map[string]any)["items"].(map[string]any)["properties"].(map[string]any)["did"].(map[string]any)
	assert.Equal(t, []any{"renewed", "planted", "sown", "fed", "harvested", "noted"}, did["examples"])
}
