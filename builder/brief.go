package builder

import (
	"regexp"
	"slices"
	"strings"
	"sync"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/view"
)

// A brief is what lists and other pages tell of a block. It outlives the block's data and view, of which a large
// handbook could not hold all at once.
type brief struct {
	computed bool     // there are numbers
	stamp    string   // "" without one
	sizes    []string // labels of a recipe's sizes
	choices  []string // names of its choices, in each size
	own      [2]int   // from and to how many hundredths of a litre its page works out any other pot; 0 = it does not
	mix      string   // what it was written for: "40 L of mix", "5 gal of mix, which is 18.9 L"
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
	out.mix = mixOf(r)
	for _, part := range r.View.Parts {
		if sizes, ok := part.(view.Sizes); ok && sizes.Own != nil {
			out.own = [2]int{sizes.Own.From, sizes.Own.To}
		}
	}
	return out
}

// mixOf says what a recipe was written for, "" of any other block.
func mixOf(r block.Result) string {
	wanted, _ := r.Data.Get("for").(data.Object)
	number, ok := wanted.Get("litres").(data.Number)
	if !ok {
		return ""
	}
	for _, f := range r.Facts {
		recipe, ok := f.(facts.Recipe)
		switch {
		case ok && inLitres.MatchString(recipe.Mix):
			return recipe.Mix + " of mix"
		case ok:
			return recipe.Mix + " of mix, which is " + view.Number(float64(number)) + " L"
		}
	}
	return view.Number(float64(number)) + " L of mix"
}

// inLitres is a volume that was written in litres.
var inLitres = regexp.MustCompile(`(?i)^[^a-z]+(l|litres?|liters?)$`)

// release lets go of a block's data and view, and of the same in what is kept for later builds. Without later builds
// its tree goes as well.
func (h *Handbook) release(p *Placed) {
	p.Result.Data, p.Result.View, p.Result.Working = nil, view.Doc{}, nil
	p.Result.Sources = h.works.shared(p.Result.Sources)
	if h.cache == nil {
		h.fold(p)
		return
	}
	if was, found := h.cache.blocks.get(p.from, h.cache.build); found {
		brief := *was
		brief.result, brief.whole = p.Result, false
		h.cache.blocks.put(p.from, &brief, h.cache.build)
	}
}

// fold lets go of all that was read of a block in a note. A plan that asks its recipe for another container, as few
// recipes are asked, reads the text once more.
func (h *Handbook) fold(p *Placed) {
	if p.fence == nil {
		return
	}
	for i, f := range p.Result.Facts {
		if recipe, ok := f.(facts.Recipe); ok {
			again := sync.OnceValue(func() facts.Recipe { return h.unfolded(p, recipe.ID) })
			recipe.For = func(c garden.Container, with []string, grown facts.Grown) (facts.Portioned, []diag.Diagnostic) {
				return again().For(c, with, grown)
			}
			p.Result.Facts[i] = recipe
		}
	}
	p.root, p.block = nil, nil
}

// unfolded reads and computes a block anew for its recipe. What was wrong with it was reported before.
func (h *Handbook) unfolded(p *Placed, id string) (out facts.Recipe) {
	fresh := h.blockOf(p.Note, 0, p.fence, func(diag.Diagnostic) {})
	for _, f := range fresh.block.Compute(h.pass(p, h.files, nil)).Facts {
		if recipe, ok := f.(facts.Recipe); ok && recipe.ID == id {
			out = recipe
		}
	}
	return out
}

// works are the lists of works that blocks rest on, each once: most recipes rest on the same as some others.
type works struct {
	guard sync.Mutex
	lists map[string][]sources.Entry
}

// shared returns the list that was there before, if there was the same.
func (w *works) shared(list []sources.Entry) []sources.Entry {
	var key strings.Builder
	for _, e := range list {
		key.WriteString(e.Key + "\n")
	}
	w.guard.Lock()
	defer w.guard.Unlock()
	if was := w.lists[key.String()]; slices.Equal(was, list) {
		return was
	}
	if w.lists == nil {
		w.lists = map[string][]sources.Entry{}
	}
	w.lists[key.String()] = list
	return list
}
