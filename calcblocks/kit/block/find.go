package block

import (
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
)

// Crop returns a crop of the reference; one that it does not know is reported at its place.
func (p *Pass) Crop(id string, at diag.Position) (*reference.Crop, bool) {
	crop, ok := p.Ref.Crop(id)
	if !ok {
		p.Unknown(at, "crop", id, p.Ref.CropIDs(), "see: trug catalogue crops")
	}
	return crop, ok
}

// Material returns an amendment of the cupboard or the reference; one that neither knows is reported.
func (p *Pass) Material(id string, at diag.Position) (*garden.Material, bool) {
	m, ok := p.Garden.Material(id)
	if !ok {
		p.Unknown(at, "amendment", id, p.Garden.MaterialIDs(), "add it to cupboard.yaml with name, label and cup weighs, or see: trug catalogue amendments")
	}
	return m, ok
}

// Scooped is Material for an amendment that may go through a spoon, which needs the weight of a cup; one that
// is weighed does not.
func (p *Pass) Scooped(id string, at diag.Position, weighed bool) (*garden.Material, bool) {
	m, ok := p.Material(id, at)
	if ok && !weighed && !m.Density().Known {
		p.Report(diag.Errorf(at, "no-density", "the weight of a cup of %q is not known", id).Hint("weigh a level cup and add \"cup weighs\" to cupboard.yaml, or give the amount in grams"))
		return nil, false
	}
	return m, ok
}

// Unknown reports an id that nothing has, with the nearest one that something has, else another hint.
func (p *Pass) Unknown(at diag.Position, what, id string, known []string, hint string) {
	d := diag.Errorf(at, "unknown-"+what, "unknown %s %q", what, id)
	if near := diag.Meant(id, known); near != "" {
		p.Report(d.Hint("did you mean %s?", near))
		return
	}
	p.Report(d.Hint("%s", hint))
}
