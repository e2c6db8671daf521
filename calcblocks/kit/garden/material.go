package garden

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// A Material is an amendment as this handbook knows it: the grower's own figures where there are any,
// the reference's elsewhere.
type Material struct {
	ID, Name   string
	Ref        *reference.Amendment // nil for a blend that the reference does not know
	Packs      []Pack
	Stock      *units.Quantity // nil = not told
	InCupboard bool
	At         diag.Position // its entry in the cupboard
	label      map[reference.Nutrient]reference.Figure
	density    reference.Figure
	labelText  []string   // "n: 4", as written
	cup        units.Mass // what the main set's cup weighs
	kept       *sync.Map  // nil outside a handbook, where figures may still change
}

// Entry returns the material as an entry of a cupboard or a recipe file, indented by two: name, label
// and weighed cup.
func (m *Material) Entry() string {
	return fmt.Sprintf("  %s:\n    name: %q\n    label: {%s}\n    cup weighs: %s g\n",
		m.ID, m.Name, strings.Join(m.labelText, ", "), strconv.FormatFloat(m.cup.Float(), 'f', -1, 64))
}

// Material returns an amendment of the cupboard or of the reference.
func (g *Garden) Material(id string) (*Material, bool) {
	m, ok := g.materials[id]
	return m, ok
}

// gatherMaterials enters every amendment of the reference and, over those, of the cupboard: one Material for
// each, which keeps what is worked out of it.
func (g *Garden) gatherMaterials() {
	g.materials = map[string]*Material{}
	for _, ref := range g.ref.Amendments {
		g.materials[ref.ID] = &Material{ID: ref.ID, Name: ref.Name, Ref: ref}
	}
	for _, m := range slices.Backward(g.cupboard) { // of two alike the first counts
		g.materials[m.ID] = m
	}
	for _, m := range g.materials {
		m.kept = &sync.Map{}
	}
}

// Kept returns what work makes of a material's figures, made once for all blocks: key tells one work from
// another. It must follow from the figures alone, and nobody may change it.
func Kept[T any](m *Material, key any, work func() T) T {
	if m.kept == nil {
		return work()
	}
	if have, ok := m.kept.Load(key); ok {
		return have.(T)
	}
	have, _ := m.kept.LoadOrStore(key, work())
	return have.(T)
}

// Cupboard returns the cupboard's materials in the author's order.
func (g *Garden) Cupboard() []*Material { return g.cupboard }

// MaterialIDs returns the ids of the cupboard and of the reference, for hints.
func (g *Garden) MaterialIDs() []string {
	ids := g.ref.AmendmentIDs()
	for _, m := range g.cupboard {
		if m.Ref == nil {
			ids = append(ids, m.ID)
		}
	}
	return ids
}

// Content returns percent of a nutrient in the material as it is: the label's figure, else the
// reference's. An unknown figure is not zero.
func (m *Material) Content(n reference.Nutrient) reference.Figure {
	if f, ok := m.label[n]; ok {
		return f
	}
	if m.Ref == nil {
		return reference.Figure{}
	}
	return m.Ref.AsIs(n)
}

// Density returns g/mL, loose and level: from the weighed cup, else the reference's.
func (m *Material) Density() reference.Figure {
	if m.density.Known || m.Ref == nil {
		return m.density
	}
	return m.Ref.Density
}

// LimeValue returns percent of pure calcium carbonate; negative = acid-forming.
func (m *Material) LimeValue() reference.Figure {
	if m.Ref == nil {
		return reference.Figure{}
	}
	return m.Ref.LimeValue
}

// CToN returns the ratio of carbon to nitrogen.
func (m *Material) CToN() reference.Figure {
	if m.Ref == nil {
		return reference.Figure{}
	}
	return m.Ref.CToN
}

// SaltIndex returns the salt index relative to sodium nitrate = 100.
func (m *Material) SaltIndex() reference.Figure {
	if m.Ref == nil {
		return reference.Figure{}
	}
	return m.Ref.SaltIndex
}

// Hazards returns the hazard ids of the material.
func (m *Material) Hazards() []string {
	if m.Ref == nil {
		return nil
	}
	return m.Ref.Hazards
}

// Class returns what the material is for: nitrogen, potassium, liming, compost ...; "" for an own blend.
func (m *Material) Class() string {
	if m.Ref == nil {
		return ""
	}
	return m.Ref.Class
}

// Price returns the cost of a mass at the cheapest pack, per gram, and false when no pack has a price. A
// pack sold by volume is turned into grams with the density.
func (m *Material) Price(mass units.SomeMass) (units.SomeMoney, bool) {
	best, found := units.SomeMoney{}, false
	for _, p := range m.Packs {
		cost, ok := m.packCost(p, mass)
		if ok && (!found || cost.Typical < best.Typical) {
			best, found = cost, true
		}
	}
	return best, found
}

func (m *Material) packCost(p Pack, mass units.SomeMass) (units.SomeMoney, bool) {
	if p.Holds.Weighed {
		return units.Cost(mass, p.Price, p.Holds.Mass), true
	}
	d := m.Density()
	if !d.Known {
		return units.SomeMoney{}, false
	}
	return units.CostByVolume(mass, p.Price, units.Weigh(p.Holds.Volume, d.Density())), true
}
