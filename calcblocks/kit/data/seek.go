package data

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// A Finding is where a path leads: the whole path, as Walk names it, and the value that stands there.
type Finding struct {
	Path  string
	Value Value
}

// A Miss says why a path leads to no one place. Good is what of it leads somewhere, Step the name that stands
// nowhere behind that, Here the names that stand there, Below those further down. When a path fits several
// places equally well, Step is "" and Between holds their whole paths.
type Miss struct {
	Good, Step           string
	Here, Below, Between []string
}

// Seek returns the place that a path leads to. A path is names on the way down the tree, joined by "/":
//
//   - a key, or some of its words: "available_n_g" is "available_n" or "n" too;
//   - a member of a list by its place from 1, by any word that it holds ("kelp-meal", "pepper"), by a number
//     with its key ("week-8") or by a measure ("40-l");
//   - names between may be left out. So may a size: then it is the one that holds as much as the block is for,
//     else the only one. So may the keys in prefer, against those beside them.
//
// Of several places, the one with the fewest keys cut short is meant, and among those the one with the fewest
// names left out.
func Seek(root Object, path string, prefer ...string) (Finding, *Miss) {
	if v, ok := Find(root, path); ok && path != "" {
		return Finding{whole(root, path), v}, nil
	}
	steps := steps(path)
	found := seek(root, steps, prefer)
	switch len(found) {
	case 0:
		return Finding{}, miss(root, path, prefer)
	case 1:
		return found[0], nil
	}
	m := &Miss{Good: path}
	for _, f := range found {
		m.Between = append(m.Between, f.Path)
	}
	return Finding{}, m
}

// whole returns the whole path of one that Find takes.
func whole(root Object, path string) string {
	if _, ok := find(root, strings.Split(path, "/")); ok {
		return path
	}
	return "sizes/" + path
}

// steps returns the names of a path, written as slugs.
func steps(path string) []string {
	var out []string
	for _, step := range strings.Split(path, "/") {
		if step != "" {
			step = Slug(step)
		}
		out = append(out, step)
	}
	return out
}

// miss finds the longest part of a path that leads somewhere, and what stands there.
func miss(root Object, path string, prefer []string) *Miss {
	written, names := strings.Split(path, "/"), steps(path)
	n := len(names) - 1
	found := seek(root, names[:n], prefer)
	for len(found) == 0 { // no steps lead to the root
		n--
		found = seek(root, names[:n], prefer)
	}
	m := &Miss{Good: strings.Join(written[:n], "/"), Step: written[n]}
	for _, f := range found {
		m.Here, m.Below = addNames(m.Here, f.Value, 0), addNames(m.Below, f.Value, deepest)
	}
	return m
}

// Names returns the names that a path may go on with below a value.
func Names(v Value) []string { return addNames(nil, v, 0) }

// deepest is how far below the last good step a name may stand that was meant.
const deepest = 4

// addNames adds the names that stand in a value, and so many levels down. The sizes of a block stand for their list.
func addNames(names []string, v Value, down int) []string {
	for _, c := range children(v) {
		if c.name == "sizes" {
			names = addNames(names, c.value, down)
			continue
		}
		if !slices.Contains(names, c.name) {
			names = append(names, c.name)
		}
		if down > 0 {
			names = addNames(names, c.value, down-1)
		}
	}
	return names
}

// seek returns the places where steps lead at the least cost.
func seek(root Object, steps, prefer []string) []Finding {
	s := seeker{prefer: prefer, own: ownSize(root), least: cost{len(steps) + 1, 0}}
	if i := sizeNamed(root, steps); i >= 0 { // what the other sizes hold is not meant
		s.trail = []string{"sizes", steps[0]}
		s.visit(root.Get("sizes").(List)[i], steps[1:], cost{})
		return s.found
	}
	s.visit(root, steps, cost{})
	return s.found
}

// sizeNamed is the place of the size that a path begins with, -1 without one.
func sizeNamed(root Object, steps []string) int {
	sizes, _ := root.Get("sizes").(List)
	if len(steps) == 0 || root.Get(steps[0]) != nil {
		return -1
	}
	return slices.Index(memberNames(sizes), steps[0])
}

// A seeker goes down a tree and keeps the places that cost least so far.
type seeker struct {
	prefer []string
	own    string // the size that may be left out; "" = none before another
	trail  []string
	least  cost
	found  []Finding
}

// cost is how much a path leaves to be guessed.
type cost struct{ short, skipped int }

func (c cost) compare(d cost) int {
	return cmp.Or(cmp.Compare(c.short, d.short), cmp.Compare(c.skipped, d.skipped))
}

func (s *seeker) visit(v Value, steps []string, c cost) {
	switch {
	case c.compare(s.least) > 0:
	case len(steps) == 0:
		s.take(v, c)
	default:
		for _, child := range children(v) {
			s.enter(v, child, steps, c)
		}
	}
}

// enter goes on through a child that no step names, or one, or of a list's member several: "renew/tomato".
func (s *seeker) enter(parent Value, child child, steps []string, c cost) {
	s.trail = append(s.trail, child.name)
	if s.mayLeaveOut(parent, child.name) {
		s.visit(child.value, steps, cost{c.short, c.skipped + 1})
	}
	for n, step := range steps {
		short, ok := child.answers(step)
		if !ok || n > 0 && child.place == 0 {
			break
		}
		if short {
			c.short++
		}
		s.visit(child.value, steps[n+1:], c)
	}
	s.trail = s.trail[:len(s.trail)-1]
}

// mayLeaveOut says whether a path may pass over a name: not over one that stands beside a preferred one.
func (s *seeker) mayLeaveOut(parent Value, name string) bool {
	if o, ok := parent.(Object); ok {
		return slices.Contains(s.prefer, name) || !slices.ContainsFunc(s.prefer, func(key string) bool { return o.Get(key) != nil })
	}
	inSizes := len(s.trail) == 2 && s.trail[0] == "sizes"
	return !inSizes || s.own == "" || name == s.own
}

// take keeps a place that costs no more than those before it.
func (s *seeker) take(v Value, c cost) {
	if c.compare(s.least) < 0 {
		s.least, s.found = c, nil
	}
	f := Finding{strings.Join(s.trail, "/"), v}
	if !slices.ContainsFunc(s.found, func(g Finding) bool { return g.Path == f.Path }) {
		s.found = append(s.found, f)
	}
}

// ownSize is the name of the size that holds as many litres as the block is for, "" when none or several do.
func ownSize(root Object) string {
	own := ""
	sizes, _ := root.Get("sizes").(List)
	wanted, _ := root.Get("for").(Object)
	for i, name := range memberNames(sizes) {
		size, _ := sizes[i].(Object)
		if litres, ok := size.Get("litres").(Object); ok && holds(litres, wanted.Get("litres")) {
			if own != "" {
				return ""
			}
			own = name
		}
	}
	return own
}

// holds says whether both ends of a span are a number, as it is printed.
func holds(span Object, n Value) bool {
	low, okLow := span.Get("low").(Number)
	high, okHigh := span.Get("high").(Number)
	want, ok := n.(Number)
	return ok && okLow && okHigh && low == high && Six(float64(low)) == Six(float64(want))
}

// A child is a field of an object or a member of a list, which has a place from 1.
type child struct {
	name  string
	place int
	value Value
}

func children(v Value) []child {
	var out []child
	switch v := v.(type) {
	case Object:
		for _, f := range v {
			out = append(out, child{f.Key, 0, f.Value})
		}
	case List:
		for i, name := range memberNames(v) {
			out = append(out, child{name, i + 1, v[i]})
		}
	}
	return out
}

// answers says whether a step names the child, and whether it cuts its key short.
func (c child) answers(step string) (short, ok bool) {
	if c.place == 0 {
		key := strings.ReplaceAll(step, "-", "_")
		if c.name == step || c.name == key {
			return false, true
		}
		return true, step != "" && strings.Contains("_"+c.name+"_", "_"+key+"_")
	}
	if c.name == step || strconv.Itoa(c.place) == step {
		return false, true
	}
	o, _ := c.value.(Object)
	return false, slices.ContainsFunc(o, func(f Field) bool { return f.named(step) })
}

// longestName is the length of text, in bytes, beyond which it names nothing.
const longestName = 60

// named says whether a step names an object by this field: by its text, by a number with its key, or by a
// measure in litres or grams.
func (f Field) named(step string) bool {
	switch v := f.Value.(type) {
	case Text:
		return len(v) <= longestName && mayBe(string(v), step) && Slug(string(v)) == step
	case Number:
		return strings.ContainsAny(step, "0123456789") && slices.Contains(numberNames(f.Key, float64(v)), step)
	}
	return false
}

// mayBe says whether a text's slug can be a step, by the first letter: most texts need no slug.
func mayBe(text, step string) bool {
	if text == "" || step == "" {
		return false
	}
	a, b := text[0]|0x20, step[0]
	return a == b || a < 'a' || a > 'z'
}

func numberNames(key string, x float64) []string {
	out := []string{Slug(key + " " + number(x))}
	switch {
	case strings.HasSuffix(key, "litres"):
		out = append(out, Slug(number(x)+" l"))
	case strings.HasSuffix(key, "_g"):
		out = append(out, Slug(number(x)+" g"), Slug(number(x/1000)+" kg"))
	}
	return out
}
