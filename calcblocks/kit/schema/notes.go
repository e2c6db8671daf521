package schema

import (
	"regexp"
	"slices"
	"strings"
)

var (
	fences   = regexp.MustCompile("(?s)```.*?```")
	items    = regexp.MustCompile(`(?m)^- .*(?:\n  .*)*`)
	explains = regexp.MustCompile(`(?:^- |\. )([a-z][a-z0-9_]*(?: [a-z0-9_]+)*(?:(?:, | or )[a-z][a-z0-9_]*(?: [a-z0-9_]+)*)*): `)
	between  = regexp.MustCompile(`, | or `)
)

// explain gives the keys of a mapping, or of the mappings in a list, the words that a doc has for them.
func (s *shape) explain(doc string) {
	m := s.mapping
	if m == nil && s.list != nil {
		m = s.list.item.mapping
	}
	if m == nil {
		return
	}
	doc, _, _ = strings.Cut(doc, "## Formulas")
	for _, item := range items.FindAllString(fences.ReplaceAllString(doc, ""), -1) {
		m.explain(strings.Join(strings.Fields(item), " "))
	}
}

// explain reads one item, "- key: words. key or key: words."
func (m *mappingShape) explain(item string) {
	found := explains.FindAllStringSubmatchIndex(item, -1)
	found = slices.DeleteFunc(found, func(at []int) bool { return !m.knows(between.Split(item[at[2]:at[3]], -1)) })
	for i, at := range found {
		end := len(item)
		if i+1 < len(found) {
			end = found[i+1][0] + 1 // with its full stop
		}
		for _, key := range between.Split(item[at[2]:at[3]], -1) {
			m.values[key].about = strings.TrimSpace(item[at[1]:end])
		}
	}
}

func (m *mappingShape) knows(keys []string) bool {
	return !slices.ContainsFunc(keys, func(key string) bool { return !slices.Contains(m.keys, key) })
}
