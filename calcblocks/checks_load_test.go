package calcblocks_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/units"
)

// A check is one worked figure of a publication: named inputs, named outputs and how near they must come.
type check struct {
	id, topic, kind        string
	given, expect, printed map[string]quantity
	tolerance              map[string]tolerance
	source                 string // title, publisher, number and year in one line
	confidence, note       string
}

// A quantity is an input or an output as the file writes it. Numbers stay text: "7/24" is exact.
type quantity struct {
	values           []string // one, or a list that runs in step with the others
	isList           bool
	low, high        string
	atLeast, atMost  string
	unit             string
	isRange, isBound bool
	isSample         bool // its list is one input
}

// wholeLists names the inputs whose list is one input each, beside lists of days of the year; the members of
// other lists run in step.
var wholeLists = []string{"first", "second"}

// A tolerance is how far an answer may lie from what is expected: by an amount, by a share, or not at all.
type tolerance struct {
	kind  string // absolute, relative, exact
	value string
}

var (
	checkKinds       = []string{"published", "standard", "derived", "wrong-in-print", "computed-by-reference-tool", "common-practice"}
	checkConfidences = []string{"checked", "second-hand", "from-memory"}
)

// readChecks reads every check file of a folder. The problems are what is wrong with the files: one that
// does not parse, an unknown key, an output without a tolerance, an id that stands there twice.
func readChecks(folder string) (checks []check, problems []string) {
	names, err := filepath.Glob(filepath.Join(folder, "*.yaml"))
	if err != nil || len(names) == 0 {
		return nil, []string{fmt.Sprintf("no check files in %q", folder)}
	}
	seen := map[string]string{}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			return nil, append(problems, err.Error())
		}
		read, bad := readCheckFile(filepath.Base(name), string(text))
		problems = append(problems, bad...)
		for _, c := range read {
			if first, twice := seen[c.id]; twice {
				problems = append(problems, fmt.Sprintf("the id %q stands in %s and in %s", c.id, first, filepath.Base(name)))
			}
			seen[c.id] = filepath.Base(name)
		}
		checks = append(checks, read...)
	}
	return checks, problems
}

func readCheckFile(name, text string) (checks []check, problems []string) {
	var found diag.List
	root := form.Read(form.FileSource(diag.NewFile(name, text), units.Parser{Set: units.US}, found.Report))
	if root == nil && found.Faults() == 0 {
		problems = append(problems, name+" is empty")
	}
	for _, item := range root.Items() {
		c := readCheck(item)
		checks = append(checks, c)
		for _, p := range c.problems(strings.TrimSuffix(name, ".yaml")) {
			problems = append(problems, fmt.Sprintf("%s: %s: %s", name, c.id, p))
		}
	}
	for _, d := range found.Sorted() {
		problems = append(problems, fmt.Sprintf("%s:%d: %s", d.At.Name(), d.At.Line, d.Message))
	}
	return checks, problems
}

func readCheck(n *form.Node) check {
	m := n.Fields("id", "topic", "kind", "given", "expect", "printed", "tolerance", "source", "confidence", "note")
	return check{
		id: m.Get("id").Raw(), topic: m.Get("topic").Raw(), kind: m.Get("kind").Raw(),
		given: readQuantities(m.Get("given")), expect: readQuantities(m.Get("expect")), printed: readQuantities(m.Get("printed")),
		tolerance: readTolerances(m.Get("tolerance")), source: readSource(m.Get("source")),
		confidence: m.Get("confidence").Raw(), note: m.Get("note").Raw(),
	}
}

func readQuantities(n *form.Node) map[string]quantity {
	out := map[string]quantity{}
	for _, e := range n.Mapping().Entries {
		m := e.Value.Fields("value", "low", "high", "at_least", "at_most", "unit")
		q := quantity{
			low: m.Get("low").Raw(), high: m.Get("high").Raw(), isRange: m.Get("low") != nil && m.Get("high") != nil,
			atLeast: m.Get("at_least").Raw(), atMost: m.Get("at_most").Raw(), isBound: m.Get("at_least") != nil && m.Get("at_most") != nil,
			unit: m.Get("unit").Raw(),
		}
		value := m.Get("value")
		if q.isList = value.IsList(); q.isList {
			for _, item := range value.Items() {
				q.values = append(q.values, item.Raw())
			}
		} else if value != nil {
			q.values = []string{value.Raw()}
		}
		q.isSample = slices.Contains(wholeLists, e.Name) || q.unit == "day of year"
		out[e.Name] = q
	}
	return out
}

func readTolerances(n *form.Node) map[string]tolerance {
	out := map[string]tolerance{}
	for _, e := range n.Mapping().Entries {
		m := e.Value.Fields("absolute", "relative", "exact")
		if len(m.Entries) == 1 {
			out[e.Name] = tolerance{m.Entries[0].Name, m.Entries[0].Value.Raw()}
		}
	}
	return out
}

func readSource(n *form.Node) string {
	m := n.Fields("title", "publisher", "number", "year", "inputs", "licence")
	var parts []string
	for _, key := range []string{"title", "publisher", "number", "year", "inputs"} {
		if text := m.Get(key).Raw(); text != "" {
			parts = append(parts, text)
		}
	}
	return strings.Join(parts, ", ")
}

// problems returns what a check lacks.
func (c check) problems(topic string) []string {
	var out []string
	need := func(ok bool, format string, args ...any) {
		if !ok {
			out = append(out, fmt.Sprintf(format, args...))
		}
	}
	need(c.id != "", "it has no id")
	need(c.topic == topic, "its topic %q is not the name of its file", c.topic)
	need(slices.Contains(checkKinds, c.kind), "its kind %q is unknown", c.kind)
	need(slices.Contains(checkConfidences, c.confidence), "its confidence %q is unknown", c.confidence)
	need(c.source != "", "it has no source")
	need(len(c.given) > 0 && len(c.expect) > 0, "it has no input or no output")
	need((c.kind == "wrong-in-print") == (len(c.printed) > 0), "its kind %q and its printed figures do not go together", c.kind)
	for _, name := range names(c.expect) {
		_, ok := c.tolerance[name]
		need(ok, "the output %q has no tolerance", name)
	}
	for _, name := range names(c.printed) {
		_, ok := c.expect[name]
		need(ok, "the printed %q is not an output", name)
	}
	for _, group := range []map[string]quantity{c.given, c.expect, c.printed} {
		for _, name := range names(group) {
			need(group[name].unit != "" && group[name].isWhole(), "%q is no quantity with a unit", name)
		}
	}
	return out
}

// isWhole says whether a quantity is exactly one of a value, a range and a bound.
func (q quantity) isWhole() bool {
	n := 0
	for _, is := range []bool{len(q.values) > 0, q.isRange, q.isBound} {
		if is {
			n++
		}
	}
	return n == 1
}

// names returns the names of quantities in order.
func names(of map[string]quantity) []string {
	out := make([]string, 0, len(of))
	for name := range of {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

// merge adds the checks of another folder of the same format: one of an id that is there replaces it.
func merge(checks, more []check) []check {
	for _, c := range more {
		at := slices.IndexFunc(checks, func(have check) bool { return have.id == c.id })
		if at < 0 {
			checks = append(checks, c)
		} else {
			checks[at] = c
		}
	}
	return checks
}
