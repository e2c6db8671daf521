package recipe

import (
	"slices"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
)

// tasks returns what a reader of the recipe does with these materials.
func (c *computation) tasks(materials []*garden.Material) []string {
	out := care.Tasks(materials, "mixing", "spreading", "watering")
	if c.compost != nil {
		out = append(out, "opening-mix", "filling-container")
	}
	return out
}

// applicable returns the cautions that concern these materials and the compost on top.
func (c *computation) applicable(materials []*garden.Material) []*reference.Caution {
	if c.compost != nil {
		materials = append(slices.Clone(materials), c.compost)
	}
	return care.Concerning(c.pass.Ref, materials, c.tasks(materials))
}

// wait returns the weeks to wait before sowing and before planting: 2 to 3 and 1 after meals that give
// off ammonia or block germination (cautions.yaml, fast-nitrogen-seed, derived and from memory), 6 for
// sowing after corn gluten (amendments.md, germination-block, from memory). The later end is given.
func wait(materials []*garden.Material) (sow, plant float64) {
	for _, m := range materials {
		n := m.Content(reference.N)
		if m.ID == "corn-gluten-meal" {
			sow = 6
		}
		if n.Typical > 0 && care.Overlap([]string{"ammonia", "germination-block", "phytotoxic"}, m.Hazards()) {
			sow, plant = max(sow, 3), 1
		}
	}
	return sow, plant
}
