// Package reading computes the kind "reading": what a test of a mix or a compost says of salt, pH and
// nutrients, by the bands of its own method, and what to do before the mix is used again.
package reading

import (
	_ "embed"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/extract"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/units"
)

//go:embed doc.md
var doc string

// Kind is the kind "reading".
var Kind = block.Kind{Name: "reading", Doc: doc, Parse: parse}

// reading is the block as the author wrote it. What was not told is nil, zero or empty.
type reading struct {
	at        *form.Node
	method    extract.Method
	ec        *float64 // mS/cm
	ph        *float64
	values    []value // mg/L in the extract
	crop      *form.Node
	container *form.Node
	on        time.Time
	compost   bool // of a compost, not of a mix
	medium    string
	liming    limeWish
	water     *float64 // EC of the irrigation water, mS/cm
	applied   *units.Volume
	drained   *form.Node
}

// value is one element of a laboratory's sheet.
type value struct {
	element element
	mg      float64
}

// element is one that a sheet may list.
type element struct{ key, symbol string }

// sheet lists them in the order of a sheet.
var sheet = []element{
	{"no3_n", "NO3-N"},
	{"nh4_n", "NH4-N"},
	{"p", "P"},
	{"k", "K"},
	{"ca", "Ca"},
	{"mg", "Mg"},
	{"s", "S"},
	{"na", "Na"},
	{"cl", "Cl"},
	{"b", "B"},
	{"fe", "Fe"},
	{"mn", "Mn"},
	{"cu", "Cu"},
	{"zn", "Zn"},
}

var otherKeys = []string{
	"method", "ec", "ph", "crop", "pot", "container", "on", "of", "medium", "target", "lime", "lime value", "lime rate", "fineness",
	"water ec", "applied", "drained",
}

func parse(n *form.Node) block.Block {
	keys := slices.Clone(otherKeys)
	for _, e := range sheet {
		keys = append(keys, e.key)
	}
	m := n.Fields(keys...)
	r := &reading{at: n, crop: m.Get("crop"), medium: "used"}
	r.readContainer(m)
	r.ec, r.water = readNumber(m.Get("ec"), readEC), readNumber(m.Get("water ec"), readEC)
	r.ph = readNumber(m.Get("ph"), readPH)
	for _, e := range sheet {
		if mg := readNumber(m.Get(e.key), readLab); mg != nil {
			r.values = append(r.values, value{e, *mg})
		}
	}
	r.readMethod(m)
	r.on = orZero(m.Get("on"), units.ReadDate)
	r.compost = orZero(m.Get("of"), oneOf("of", "mix", "compost")) == "compost"
	if medium := orZero(m.Get("medium"), oneOf("medium", mediums...)); medium != "" {
		r.medium = medium
	}
	r.liming.read(m)
	r.readDrained(m)
	return r
}

func (r *reading) readContainer(m form.Mapping) {
	if m.Get("pot") != nil || m.Get("container") != nil {
		r.container = m.OneOf("keep one of the two", "pot", "container")
	}
}

// readMethod needs the method wherever a value depends on it.
func (r *reading) readMethod(m form.Mapping) {
	told := m.Get("ec") != nil || slices.ContainsFunc(sheet, func(e element) bool { return m.Get(e.key) != nil })
	switch {
	case m.Get("method") != nil:
		words := make([]string, len(extract.Methods))
		for i, method := range extract.Methods {
			words[i] = string(method)
		}
		r.method = extract.Method(orZero(m.Get("method"), oneOf("method", words...)))
	case told:
		m.Need("method", "write how the extract was made: \"method: sme\", \"pour-through\", \"1:2\" or \"1:5\"")
	}
	if !told && m.Get("ph") == nil {
		r.at.Fault("nothing-read", "write what was measured: ec, ph, or values such as \"k: 210\"", "the reading holds no value")
	}
}

func (r *reading) readDrained(m form.Mapping) {
	r.drained = m.Get("drained")
	if v := m.Get("applied"); v != nil {
		if x, ok := form.Value(v, v.Values().Volume); ok {
			r.applied = &x
		}
		if r.drained == nil {
			v.Fault("missing-key", "write how much ran out below, such as \"drained: 0.5 L\"", "the key %q is missing", "drained")
		}
	} else if r.drained != nil {
		r.drained.Fault("missing-key", "write how much was poured on, such as \"applied: 4 L\"", "the key %q is missing", "applied")
	}
}

// orZero reads a node that may be absent.
func orZero[T any](n *form.Node, read func(string) (T, error)) T {
	var none T
	if n == nil {
		return none
	}
	if v, ok := form.Value(n, read); ok {
		return v
	}
	return none
}

func readNumber(n *form.Node, read func(units.Parser, string) (float64, error)) *float64 {
	if n == nil {
		return nil
	}
	x, ok := form.Value(n, func(text string) (float64, error) { return read(n.Values(), text) })
	if !ok {
		return nil
	}
	return &x
}

func oneOf(what string, words ...string) func(string) (string, error) {
	return func(text string) (string, error) {
		if slices.Contains(words, text) {
			return text, nil
		}
		return "", units.Faultf(0, "unknown-"+what, "write one of "+strings.Join(words, ", "), "unknown %s %q", what, text)
	}
}

var (
	bareNumber = regexp.MustCompile(`^\d+(?:\.\d+)?$`)
	labNumber  = regexp.MustCompile(`(?i)^(\d+(?:\.\d+)?)(?: ?(?:mg/l|ppm))?$`)
)

// mostEC is above any extract of a mix in mS/cm: a larger bare number is in microsiemens.
const mostEC = 30

// readEC reads an EC; a bare number is mS/cm, as meters and sheets print it.
func readEC(values units.Parser, text string) (float64, error) {
	if bareNumber.MatchString(text) {
		text += " mS/cm"
	}
	ec, err := values.EC(text)
	if err == nil && ec.Float() > mostEC {
		return 0, units.Faultf(0, "bad-ec", "write the unit of the meter, such as \"2100 µS/cm\"", "%q is more than any mix holds", text)
	}
	return ec.Float(), err
}

func readPH(_ units.Parser, text string) (float64, error) {
	x, err := strconv.ParseFloat(text, 64)
	if !bareNumber.MatchString(text) || err != nil || x < 2 || x > 11 {
		return 0, units.Faultf(0, "bad-ph", "write a number such as 6.2", "%q is not the pH of a mix", text)
	}
	return x, nil
}

// readLab reads a value of a laboratory's sheet in mg/L; ppm of an extract is the same. Zero is a finding.
func readLab(_ units.Parser, text string) (float64, error) {
	m := labNumber.FindStringSubmatch(text)
	if m == nil {
		return 0, units.Faultf(0, "bad-lab-value", "write mg in a litre of the extract, such as 210 or \"210 mg/L\"", "%q is not a value in mg/L", text)
	}
	x, err := strconv.ParseFloat(m[1], 64)
	if err != nil || x > 1e5 {
		return 0, units.Faultf(0, "bad-lab-value", "write mg in a litre of the extract, such as 210", "%q is more than any extract holds", text)
	}
	return x, nil
}
