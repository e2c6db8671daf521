package recipe

import (
	"fmt"
	"slices"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

// A stage is one step of the usual order with the tasks done in it: a caution of those tasks stands
// beside the step.
type stage struct {
	text  string
	tasks []string
}

// stepsView returns the author's steps, or the usual order with the cautions beside the steps that they
// concern, and the cautions that are left for the end of the page.
func (c *computation) stepsView() (view.Steps, []view.Caution) {
	cautions := c.applicable(c.allMaterials())
	out := view.Steps{Title: "Steps"}
	if len(c.recipe.steps) > 0 {
		for _, s := range c.recipe.steps {
			out.Items = append(out.Items, view.Step{Text: s})
		}
		return out, care.Views(cautions)
	}
	for _, s := range c.stages() {
		step := view.Step{Text: s.text}
		for _, caution := range cautions {
			if !caution.Always && care.Overlap(caution.Tasks, s.tasks) {
				step.Cautions = append(step.Cautions, caution.View())
			}
		}
		cautions = slices.DeleteFunc(cautions, func(caution *reference.Caution) bool {
			return !caution.Always && care.Overlap(caution.Tasks, s.tasks)
		})
		out.Items = append(out.Items, step)
	}
	return out, care.Views(cautions)
}

func (c *computation) allMaterials() []*garden.Material {
	var out []*garden.Material
	for _, r := range c.rows {
		out = append(out, r.materials...)
	}
	return out
}

// stages is the usual order: amendments on the old mix first and compost over them, since an uncovered
// meal invites digging animals (common practice, no source).
func (c *computation) stages() []stage {
	out := []stage{
		{"Break up the old mix and take out what does not belong in it.", nil},
		{"Measure each amendment level into one bucket and stir them together, slightly dampened.", []string{"mixing"}},
		{"Spread the blend evenly over the mix and work it in with a hand fork.", []string{"spreading", "spreading-ash", "liming"}},
	}
	if c.compost != nil {
		out = append(out, stage{fmt.Sprintf("Cover it with the %s and firm it gently.", care.InWords(c.compost)), []string{"opening-mix", "filling-container"}})
	}
	return append(out, stage{"Water until a little runs out at the bottom, and keep the mix moist until you plant.", []string{"watering"}})
}
