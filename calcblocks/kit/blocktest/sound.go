package blocktest

import (
	"fmt"
	"slices"

	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/view"
)

// Unsound returns what is wrong with a result whatever the block: that it tells an author nothing at all, and works
// that the working or a caution names and the block's own sources lack.
func (o Output) Unsound() []string {
	var wrong []string
	if len(o.Data) == 0 && len(o.Faults) == 0 {
		wrong = append(wrong, "the block gives neither a result nor a fault")
	}
	missing := func(where string, keys []string) {
		for _, key := range keys {
			if !slices.ContainsFunc(o.Sources, func(e sources.Entry) bool { return e.Key == key }) {
				wrong = append(wrong, fmt.Sprintf("%s names the source %q, which is not among the block's sources: care.Cited gathers them", where, key))
			}
		}
	}
	for _, step := range o.Working {
		missing("the working of "+step.What, step.Sources)
	}
	for _, part := range o.View.Parts {
		if c, ok := part.(view.Cautions); ok {
			for _, item := range c.Items {
				missing("the caution "+item.ID, item.Sources)
			}
		}
	}
	return wrong
}
