// Package shopping computes the kind "shopping": what to buy for a plan, in which packs, what it costs and what
// is left over.
package shopping

import (
	_ "embed"
	"fmt"
	"slices"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/purchase"
)

//go:embed doc.md
var doc string

// Kind is the kind "shopping".
var Kind = block.Kind{Name: "shopping", Doc: doc, Phase: 3, Bare: true, Parse: parse}

// shopping is the block as the author wrote it.
type shopping struct {
	at    *form.Node
	named *form.Node // the plan, nil for the only one
}

func parse(n *form.Node) block.Block {
	m := n.Fields("plan")
	return &shopping{n, m.Get("plan")}
}

// computation carries one Compute.
type computation struct {
	*shopping
	pass      *block.Pass
	plans     []facts.Plan
	plan      facts.Plan
	plantings []facts.Planting
	needs     []*purchase.Need
	litres    float64 // of mix in all pots
}

// Compute computes the list of one plan. A plan without plantings has faults of its own, which were reported.
func (s *shopping) Compute(p *block.Pass) block.Result {
	c := &computation{shopping: s, pass: p}
	for _, f := range p.Facts {
		if plan, ok := f.(facts.Plan); ok {
			c.plans = append(c.plans, plan)
		}
	}
	c.checkTwice()
	if p.For != "" {
		p.Report(diag.Errorf(diag.Position{}, "own-pots", "a shopping list is for the pots of its plan").Hint("leave \"--for\" out, or ask a recipe"))
	}
	if !c.choose() || !c.gather() {
		return block.Result{Title: "Shopping list"}
	}
	return c.result()
}

// gather takes the plan's plantings and adds up what they take.
func (c *computation) gather() bool {
	for _, f := range c.pass.Facts {
		if p, ok := f.(facts.Planting); ok && p.Plan == c.plan.ID {
			c.plantings = append(c.plantings, p)
			c.litres += p.Content.Litres[1]
		}
	}
	c.needs = purchase.Of(c.plantings)
	return len(c.plantings) > 0
}

// checkTwice reports a pot that two plans of one season plant: plans do not see each other.
func (c *computation) checkTwice() {
	type place struct {
		season int
		pot    string
	}
	first := map[place]facts.Planting{}
	for _, f := range c.pass.Facts {
		p, ok := f.(facts.Planting)
		if !ok {
			continue
		}
		at := place{p.Season, p.Pot}
		before, taken := first[at]
		if !taken {
			first[at] = p
			continue
		}
		d := diag.Errorf(p.At, "planted-twice", "the pot %q is planted in two plans of %d", p.Pot, p.Season)
		c.pass.Report(d.Hint("keep it in one of them").Also(before.At, "the plan %q plants it here", before.Plan))
	}
}

// choose finds the plan that the block names, or the only one.
func (c *computation) choose() bool {
	if c.named == nil {
		return c.only()
	}
	id, ok := c.named.Text()
	i := slices.IndexFunc(c.plans, func(p facts.Plan) bool { return p.ID == id })
	if !ok {
		return false
	}
	if i >= 0 {
		c.plan = c.plans[i]
		return true
	}
	d := diag.Errorf(c.named.At(), "unknown-plan", "unknown plan %q", id)
	if near := diag.Closest(id, c.ids()); near != "" {
		d = d.Hint("did you mean %q?", near)
	} else {
		d = d.Hint("write the id of a plan of this handbook")
	}
	c.pass.Report(d)
	return false
}

func (c *computation) ids() []string {
	var out []string
	for _, p := range c.plans {
		out = append(out, p.ID)
	}
	return out
}

func (c *computation) only() bool {
	switch n := len(c.plans); n {
	case 0:
		c.at.Fault("no-plan", "write a plan first, as a block such as \"plan season-2027\"", "there is no plan to shop for")
		return false
	case 1:
		c.plan = c.plans[0]
		return true
	default:
		c.at.Fault("which-plan", fmt.Sprintf("write \"plan: %s\"", c.plans[n-1].ID), "there are %d plans, and the list is for one", n)
		return false
	}
}
