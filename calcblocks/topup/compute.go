package topup

import (
	"fmt"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/renewal"
)

// computation carries one Compute. Heights are cm above the base, volumes litres.
type computation struct {
	*topup
	pass     *block.Pass
	pot      garden.Container
	material *garden.Material // nil for fresh mix
	where    string           // of the old mix
	assumed  []string         // what was not told and is taken as usual

	lastFill, surface, refill float64 // heights: last year's line, the old mix before, the line to fill to
	after                     float64 // height of the old mix once some is out
	balance                   renewal.Balance
}

// Compute computes the renewal of one container.
func (t *topup) Compute(p *block.Pass) block.Result {
	c := &computation{topup: t, pass: p}
	if !c.resolve() || !c.levels() || !c.layers() {
		return block.Result{Title: "Top up"}
	}
	return c.result()
}

func (c *computation) resolve() bool {
	if c.container == nil {
		return false
	}
	pot, asked, ok := c.pass.Asked()
	if !asked {
		pot, ok = form.Value(c.container, c.pass.Garden.Container)
	}
	if !ok || !c.resolveWith() || !c.resolveOldMix() {
		return false
	}
	c.pot = pot
	return true
}

// resolveWith finds the compost; the word "mix" is fresh potting mix.
func (c *computation) resolveWith() bool {
	id, ok := c.with.Text()
	if !ok || id == "mix" {
		return ok
	}
	m, known := c.pass.Garden.Material(id)
	if !known {
		d := diag.Errorf(c.with.At(), "unknown-amendment", "unknown compost %q", id)
		if near := diag.Closest(id, c.pass.Garden.MaterialIDs()); near != "" {
			d = d.Hint("did you mean %q?", near)
		} else {
			d = d.Hint("write a compost of the cupboard or the reference, such as \"yard-compost\", or \"mix\"")
		}
		c.pass.Report(d)
		return false
	}
	if class := m.Class(); class != "compost" && class != "" {
		c.pass.Report(diag.Errorf(c.with.At(), "not-a-compost", "%q is not a compost to fill a pot with", id).Hint("write a compost, such as \"yard-compost\", or \"mix\"; amendments belong in a recipe"))
		return false
	}
	c.material = m
	return true
}

func (c *computation) resolveOldMix() bool {
	if c.oldMixTo == nil {
		return true
	}
	where, ok := c.oldMixTo.Text()
	if !ok || where == "heap" {
		c.where = "the heap"
		return ok
	}
	pot, ok := form.Value(c.oldMixTo, c.pass.Garden.Container)
	c.where = pot.Label
	return ok
}

// levels finds the heights: last year's fill line, how far the mix has sunk, and the line to fill to.
func (c *computation) levels() bool {
	v := c.pot.Vessel
	c.lastFill = v.FillHeight()
	c.refill = c.lastFill
	if c.leave != nil && v.Measured[1] != 0 {
		d := diag.Errorf(c.leave.at.At(), "leave-without-rim", "headspace counts from the rim, and the rim of this container is not known")
		c.pass.Report(d.Hint("leave \"leave\" out: the pot is filled to its own line; or give the pot a shape"))
		return false
	}
	if c.leave != nil {
		c.refill = v.Depth - c.leave.cm
		if c.refill <= 0 {
			return c.refuse(c.leave, "leave-too-deep", "the pot is %s cm deep", fmt.Sprintf("%.4g", v.Depth))
		}
	}
	fall := c.fall()
	c.surface = c.lastFill - fall
	if c.settled != nil && c.surface < 0 {
		return c.refuse(c.settled, "settled-too-far", "the fill line stands %s cm above the base", fmt.Sprintf("%.4g", c.lastFill))
	}
	c.after = c.surface
	if c.take != nil {
		c.after = c.surface - c.take.cm
		if c.after < 0 {
			return c.refuse(c.take, "take-too-much", "the old mix stands %s cm deep", fmt.Sprintf("%.4g", c.surface))
		}
	}
	return true
}

func (c *computation) refuse(l *length, code, why string, args ...any) bool {
	d := diag.Errorf(l.at.At(), code, "%q is more than there is", l.at.Raw())
	c.pass.Report(d.Hint(why, args...))
	return false
}

// fall returns how far the level fell since last year, cm. Where it was not told: nothing when the
// author takes old mix out by depth, since that depth counts from the mix as it stands; else the usual
// 15 % of the fill height (volumes.yaml, settling_percent_of_fill_height, from memory).
func (c *computation) fall() float64 {
	switch {
	case c.settled != nil:
		return c.settled.cm
	case c.take != nil:
		c.assumed = append(c.assumed, "The fall of the level was not told, so the mix is taken to stand at last year's line: measure it to be surer.")
		return 0
	}
	usual := c.pass.Ref.Must("volumes", "settling_percent_of_fill_height", "default")
	c.assumed = append(c.assumed, fmt.Sprintf("The fall of the level was not told: %.3g %% of the fill height is assumed. Measure it from last year's line to be surer.", usual.Typical))
	return c.lastFill * usual.Typical / 100
}

func (c *computation) litres(height float64) float64 { return c.pot.Vessel.VolumeAt(height) / 1000 }

// layers balances the volumes: left - out + compost + mix = fill. By depth what comes out is the volume
// between two heights; by share it follows renewal.Renew (volumes.md, section 5).
func (c *computation) layers() bool {
	fill, left := c.litres(c.refill), c.litres(c.surface)
	if c.fresh != nil {
		c.balance = renewal.Renew(fill, 1-left/fill, c.fresh.Float())
		c.after = c.pot.Vessel.HeightOf((left - c.balance.Out) * 1000)
		c.allMix()
	} else {
		c.balance = renewal.Level{Before: c.surface, After: c.after, Refill: c.refill}.ByDepth(c.litres)
		c.allMix()
	}
	if room := c.balance.Room(); room <= 1e-9 {
		c.pass.Report(diag.Errorf(c.at.At(), "no-room", "the old mix already reaches the line to fill to, so nothing fits").Hint("take some out with \"take: 8 cm\", or leave less headspace"))
		return false
	}
	return true
}

// allMix turns the compost into new mix when the pot is filled with mix.
func (c *computation) allMix() {
	if c.material == nil {
		c.balance.NewMix += c.balance.Compost
		c.balance.Compost = 0
	}
}

// span is low, typical and high litres.
type span struct{ low, typical, high float64 }

// loose returns the loose litres to buy for firmed ones.
func (c *computation) loose(firmed float64) span {
	r := c.firming()
	return span{renewal.Loose(firmed, r.High), renewal.Loose(firmed, r.Typical), renewal.Loose(firmed, r.Low)}
}

func (c *computation) firming() reference.Figure {
	return c.pass.Ref.Must("volumes", "packing", "ratio")
}

// beforeScreen returns the loose compost that must be sieved to have enough.
func (c *computation) beforeScreen() float64 {
	loose := c.loose(c.balance.Compost).typical
	if c.screened == nil {
		return loose
	}
	return loose / c.screened.Float()
}

// originalLeft returns percent of the first mix left after one to five renewals like this one.
func (c *computation) originalLeft() []float64 {
	var out []float64
	for year := 1; year <= 5; year++ {
		out = append(out, 100*renewal.OriginalLeft(c.balance.FreshShare(), year))
	}
	return out
}
