package blocktest

import (
	"strings"

	"trug/calcblocks/kit/data"
)

// Guards returns the guard ids of a size and a combination of picks, as a recipe's JSON names them; picks
// are in the order of the choices. It is nil when there is no such size or combination.
func (o Output) Guards(label string, with ...string) []string {
	for _, size := range o.list("sizes") {
		if text(size, "label") != label {
			continue
		}
		combinations, _ := size.Get("combinations").(data.List)
		for _, c := range combinations {
			if c := c.(data.Object); strings.Join(texts(c, "with"), " ") == strings.Join(with, " ") {
				return append([]string{}, texts(c, "guards")...)
			}
		}
	}
	return nil
}

// Cautions returns the ids of the cautions of a block without sizes, or of a recipe's size.
func (o Output) Cautions(label string) []string {
	from := o.Data
	for _, size := range o.list("sizes") {
		if text(size, "label") == label {
			from = size
		}
	}
	var out []string
	list, _ := from.Get("cautions").(data.List)
	for _, c := range list {
		out = append(out, text(c.(data.Object), "id"))
	}
	return out
}

// guards prints guard ids, one a line. Where a recipe has several sizes or combinations each has a
// heading, such as "20 L with kelp-meal:". A block without sizes prints all its cautions.
func (o Output) guards() string {
	sizes := o.list("sizes")
	if sizes == nil {
		return lines(o.Cautions(""))
	}
	var b strings.Builder
	for _, size := range sizes {
		combinations, _ := size.Get("combinations").(data.List)
		for _, c := range combinations {
			c := c.(data.Object)
			if len(sizes)*len(combinations) > 1 {
				head := text(size, "label") + " with " + strings.Join(texts(c, "with"), ", ")
				b.WriteString(strings.TrimSuffix(head, " with ") + ":\n")
			}
			b.WriteString(lines(texts(c, "guards")))
		}
	}
	return b.String()
}

func lines(texts []string) string {
	if len(texts) == 0 {
		return ""
	}
	return strings.Join(texts, "\n") + "\n"
}

func (o Output) list(key string) []data.Object {
	var out []data.Object
	list, _ := o.Data.Get(key).(data.List)
	for _, item := range list {
		out = append(out, item.(data.Object))
	}
	return out
}

func text(o data.Object, key string) string {
	t, _ := o.Get(key).(data.Text)
	return string(t)
}

func texts(o data.Object, key string) []string {
	var out []string
	list, _ := o.Get(key).(data.List)
	for _, item := range list {
		out = append(out, string(item.(data.Text)))
	}
	return out
}
