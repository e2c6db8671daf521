package schema

import (
	"slices"
	"strings"

	"trug/calcblocks/kit/form"
)

// exploreRules finds what a mapping cannot do without, and which keys do not go together. A rule stands only
// when it holds for all samples of its keys: a schema must not refuse what the reader takes.
func (p prober) exploreRules(m *mappingShape, f frame) {
	bare := p.missing(f)
	alone := map[string][]lack{}
	for _, key := range m.keys {
		alone[key] = p.missing(f, entry{key, m.values[key].sample()})
	}
	for _, l := range bare {
		var filled []string
		for _, key := range m.keys {
			if !says(alone[key], l) {
				filled = append(filled, key)
			}
		}
		if len(filled) > 0 {
			m.needs = append(m.needs, filled)
		}
		if len(filled) == 1 && m.values[filled[0]].open {
			m.values[filled[0]].about = l.hint
		}
	}
	for _, key := range m.keys {
		p.exploreDependency(m, f, key, bare, alone[key])
	}
	p.exploreBetween(m, f)
}

// A lack is a missing key, as it is reported.
type lack struct{ message, hint string }

func says(all []lack, l lack) bool {
	return slices.ContainsFunc(all, func(other lack) bool { return other.message == l.message })
}

// missing returns what a mapping with these entries lacks: not what lies deeper inside them.
func (p prober) missing(f frame, entries ...entry) []lack {
	text, nested := placed(entries)
	h := p.read(f, text)
	var out []lack
	for _, d := range h.within() {
		at := d.At.Column - h.from
		inner := slices.ContainsFunc(nested, func(span [2]int) bool { return span[0] <= at && at <= span[1] })
		if d.Code == "missing-key" && !inner {
			out = append(out, lack{d.Message, strings.Join(d.Hints, "; ")})
		}
	}
	return out
}

// exploreDependency finds the keys that a key needs beside it.
func (p prober) exploreDependency(m *mappingShape, f frame, key string, bare, alone []lack) {
	for _, l := range alone {
		if says(bare, l) {
			continue
		}
		always := true
		for _, value := range m.values[key].samples() {
			always = always && says(p.missing(f, entry{key, value}), l)
		}
		var filled []string
		for _, other := range m.keys {
			if other != key && !says(p.missing(f, entry{key, m.values[key].sample()}, entry{other, m.values[other].sample()}), l) {
				filled = append(filled, other)
			}
		}
		if always && len(filled) > 0 {
			m.with = append(m.with, dependency{key, filled})
		}
	}
}

// exploreBetween finds the pairs of which the reader takes one only.
func (p prober) exploreBetween(m *mappingShape, f frame) {
	for i, one := range m.keys {
		for _, other := range m.keys[i+1:] {
			if p.quarrels(m, f, one, other) {
				m.between = append(m.between, [2]string{one, other})
			}
		}
	}
}

// quarrels says whether two keys are never taken together: the reader says that it takes one of several, or
// each sample of the one beside each of the other brings a fault that neither has alone and that no third key
// takes away.
func (p prober) quarrels(m *mappingShape, f frame, one, other string) bool {
	a, b := m.values[one], m.values[other]
	names, asked := p.read(f, mapping(entry{one, a.sample()}, entry{other, b.sample()})).asked(form.AskedOneOf)
	if asked && slices.Contains(names, one) && slices.Contains(names, other) {
		return true
	}
	if a.vague() || b.vague() {
		return false
	}
	for _, first := range a.samples() {
		for _, second := range b.samples() {
			if len(p.brings(f, entry{one, first}, entry{other, second})) == 0 {
				return false
			}
		}
	}
	return !p.mediated(m, f, entry{one, a.sample()}, entry{other, b.sample()})
}

// mediated says whether a third key takes away what two bring.
func (p prober) mediated(m *mappingShape, f frame, one, other entry) bool {
	brought := p.brings(f, one, other)
	return slices.ContainsFunc(m.keys, func(third string) bool {
		if third == one.key || third == other.key {
			return false
		}
		still := p.codes(f, one, other, entry{third, m.values[third].sample()})
		return !slices.ContainsFunc(brought, func(code string) bool { return slices.Contains(still, code) })
	})
}

// brings returns the faults that two entries bring together and neither alone.
func (p prober) brings(f frame, one, other entry) []string {
	alone := append(p.codes(f, one), p.codes(f, other)...)
	return slices.DeleteFunc(p.codes(f, one, other), func(code string) bool { return code == "missing-key" || slices.Contains(alone, code) })
}

func (p prober) codes(f frame, entries ...entry) []string {
	var out []string
	for _, d := range p.read(f, mapping(entries...)).within() {
		out = append(out, d.Code)
	}
	return out
}
