package facts

import (
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

// Recipe is a recipe that another block can compute for a container of its own.
type Recipe struct {
	ID, Title string
	At        diag.Position
	Mix       string     // the volume of mix that it was written for, as its author wrote it
	Crop      string     // "" when the recipe names none
	Choices   [][]string // amendment ids of each choice, the first is the default
	// For computes the recipe for a container with picks among its choices; what is wrong with the picks
	// is returned and the result is then empty.
	For func(container garden.Container, with []string, grown Grown) (Portioned, []diag.Diagnostic)
}

// Grown is what a container is to grow, whatever the recipe was written for. The zero Grown stands for the recipe's
// own crop and plants, in proportion to its mix.
type Grown struct {
	Crop   *reference.Crop // nil = not told
	Plants int             // 0 = not told
}

// Portioned is a recipe for one container with its picks made.
type Portioned struct {
	Litres  [2]float64        // fill volume, low and high
	Masses  [2][]dose.Portion // the amendments at the author's low and high end, as the spoons hold them
	Compost [2][]dose.Portion // the compost on top, empty without
	Loose   [2]float64        // litres of that compost, loose, as it is bought
	Firmed  [2]float64        // litres of that compost, firmed
	Wait    Wait
	Data    data.Object // as one of the "sizes" of the recipe's JSON
	Parts   []view.Part // amounts, compost, what they bring, for the page of a pot
	// Working is the need of the crop and the share of it that is met, where it is not the recipe's own.
	Working []view.WorkingStep
}

// Wait is how many weeks lie between mixing in and sowing or planting.
type Wait struct{ Sow, Plant float64 }

func (Recipe) fact() {}
