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
		if len(filled) == 1 {
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
	h := p.read(f, mapping(entries...))
	var out []lack
	for _, d := range h.within() {
		inner := d.At.Column > h.from && slices.ContainsFunc(entries, func(e entry) bool { return !strings.HasPrefix(e.value, `"`) })
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

// quarrels says whether each sample of one key beside each of another brings a fault that neither has alone.
func (p prober) quarrels(m *mappingShape, f frame, one, other string) bool {
	if m.values[one].open && m.values[other].open {
		names, asked := p.read(f, mapping(entry{one, nonsense}, entry{other, nonsense})).asked(form.AskedOneOf)
		return asked && slices.Contains(names, one) && slices.Contains(names, other)
	}
	for _, a := range m.values[one].samples() {
		for _, b := range m.values[other].samples() {
			if !p.newFault(f, entry{one, a}, entry{other, b}) {
				return false
			}
		}
	}
	return true
}

func (p prober) newFault(f frame, one, other entry) bool {
	first, second := p.codes(f, one), p.codes(f, other)
	for _, code := range p.codes(f, one, other) {
		if !slices.Contains(first, code) && !slices.Contains(second, code) && code != "missing-key" {
			return true
		}
	}
	return false
}

func (p prober) codes(f frame, entries ...entry) []string {
	var out []string
	for _, d := range p.read(f, mapping(entries...)).within() {
		out = append(out, d.Code)
	}
	return out
}
