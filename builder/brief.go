package builder

import (
	"fmt"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/view"
)

// A brief is what lists and other pages tell of a block. It outlives the block's data and view, of which a large
// handbook could not hold all at once.
type brief struct {
	computed bool     // there are numbers
	stamp    string   // "" without one
	sizes    []string // labels of a recipe's sizes
	choices  []string // names of its choices, in each size
	litres   string   // what it was written for, such as "40 L of mix"
}

func briefly(r block.Result) brief {
	out := brief{computed: len(r.Data) > 0, stamp: text(r.Data.Get("stamp"))}
	sizes, _ := r.Data.Get("sizes").(data.List)
	for _, v := range sizes {
		size, _ := v.(data.Object)
		if label, ok := size.Get("label").(data.Text); ok {
			out.sizes = append(out.sizes, string(label))
		}
		choices, _ := size.Get("choices").(data.List)
		for _, c := range choices {
			out.choices = append(out.choices, text(c.(data.Object).Get("name")))
		}
	}
	if f, ok := r.Data.Get("for").(data.Object); ok {
		if litres, ok := f.Get("litres").(data.Number); ok {
			out.litres = fmt.Sprintf("%s L of mix", view.Number(float64(litres)))
		}
	}
	return out
}

// release lets go of a block's data and view, and of the same in what is kept for later builds.
func (h *Handbook) release(p *Placed) {
	p.Result.Data, p.Result.View, p.Result.Working = nil, view.Doc{}, nil
	if h.cache != nil {
		if was, found := h.cache.blocks.get(p.from, h.cache.build); found {
			brief := *was
			brief.result, brief.whole = p.Result, false
			h.cache.blocks.put(p.from, &brief, h.cache.build)
		}
	}
}
