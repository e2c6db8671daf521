package garden

import (
	"fmt"
	"math/big"
	"regexp"
	"slices"
	"strings"
	"time"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
)

// A Pack is a package on sale.
type Pack struct {
	Holds  units.Quantity
	Price  units.Money
	Priced time.Time     // zero = not told
	At     diag.Position // of that day, else of the pack
}

func (g *Garden) readCupboard(root *form.Node) {
	for _, e := range mappingOf(root) {
		g.addMaterial(e)
	}
}

func (g *Garden) inCupboard(id string) bool {
	return slices.ContainsFunc(g.cupboard, func(m *Material) bool { return m.ID == id })
}

// addMaterial reads one entry of a cupboard. An amendment that the reference does not know needs a name,
// a label and a weighed cup.
func (g *Garden) addMaterial(e form.Entry) {
	if !kebab.MatchString(e.Name) {
		badID(e.Key, "kelp-meal")
		return
	}
	m := &Material{ID: e.Name, At: e.Key.At(), InCupboard: true}
	m.Ref, _ = g.ref.Amendment(e.Name)
	fields := e.Value.Fields("name", "label", "cup weighs", "packs", "stock")
	known := m.Ref != nil || g.complete(e, fields)
	m.Name = textOr(fields.Get("name"), m.Name)
	if m.Name == "" && m.Ref != nil {
		m.Name = m.Ref.Name
	}
	g.readLabel(m, fields.Get("label"))
	g.readCup(m, fields.Get("cup weighs"))
	m.readStock(fields.Get("stock"))
	m.readPacks(fields.Get("packs"))
	if known {
		g.cupboard = append(g.cupboard, m)
	}
}

// complete reports what an amendment outside the reference lacks.
func (g *Garden) complete(e form.Entry, fields form.Mapping) bool {
	var lacks []string
	for _, key := range []string{"name", "label", "cup weighs"} {
		if fields.Get(key) == nil {
			lacks = append(lacks, key)
		}
	}
	if len(lacks) == 0 {
		return true
	}
	hint := "add " + strings.Join(lacks, " and ") + ", or use an id of the reference (see: trug catalogue amendments)"
	if near := diag.Meant(e.Name, g.ref.AmendmentIDs()); near != "" {
		hint = "did you mean " + near + "?"
	}
	e.Key.Fault("unknown-amendment", hint, "%q is not in the reference, so it needs a name, a label and a weighed cup", e.Name)
	return false
}

var percentText = regexp.MustCompile(`^\d{1,3}(?:\.\d+)?$`)

func readPercent(text string) (float64, error) {
	r, ok := new(big.Rat).SetString(text)
	if !percentText.MatchString(text) || !ok || r.Cmp(big.NewRat(100, 1)) > 0 {
		hint := "write the percent as the bag says, such as 2.5"
		if bare := strings.Trim(text, "% “”\"'"); bare != text && percentText.MatchString(bare) {
			hint = fmt.Sprintf("write the number alone: %q", bare)
		}
		return 0, units.Faultf(0, "bad-percent", hint, "%q is not a percent from 0 to 100", text)
	}
	x, _ := r.Float64()
	return x, nil
}

// analysis is the grade of a bag in one text: "4-3-2".
var analysis = regexp.MustCompile(`^\s*(\d[\d.]*)\s*[-–/]\s*(\d[\d.]*)\s*[-–/]\s*(\d[\d.]*)\s*$`)

func (g *Garden) readLabel(m *Material, n *form.Node) {
	if n == nil {
		return
	}
	names := make([]string, len(reference.Nutrients))
	for i, nutrient := range reference.Nutrients {
		names[i] = string(nutrient)
	}
	if a := analysis.FindStringSubmatch(n.Raw()); a != nil {
		n.Fault("label-in-one", fmt.Sprintf("write \"label: {n: %s, p2o5: %s, k2o: %s}\"", a[1], a[2], a[3]), "a label has a key for each nutrient, and %q has none", n.Raw())
		return
	}
	m.label = map[reference.Nutrient]reference.Figure{}
	fields := n.Fields(names...)
	sum := 0.0
	for _, nutrient := range reference.Nutrients {
		if v := fields.Get(string(nutrient)); v != nil {
			x, ok := form.Value(v, readPercent)
			if ok {
				m.labelText = append(m.labelText, string(nutrient)+": "+v.Raw())
				m.label[nutrient] = g.ownFigure(m, v.At(), "label", "label analysis", x, "%")
				sum += x
			}
		}
	}
	if sum > 100 {
		n.Fault("label-over-100", "check the figures against the bag", "the label adds up to %.4g %%, more than the whole", sum)
	}
}

// readCup turns the weight of a level cup of the main set into a density.
func (g *Garden) readCup(m *Material, n *form.Node) {
	if n == nil {
		return
	}
	if weight, ok := form.Value(n, n.Values().Mass); ok {
		cup := n.Values().Set.Cup() // a recipe file may have cups of its own
		m.cup = weight.Times(g.Handbook.Main.Cup().Over(cup))
		d := units.Density(weight, cup)
		m.density = g.ownFigure(m, n.At(), "cup", "weighed cup", d.Typical, "g/mL")
	}
}

// ownFigure returns a figure that the grower measured, and enters its source. Its place counts from the
// content folder, so that the site is the same wherever the folder lies.
func (g *Garden) ownFigure(m *Material, at diag.Position, short, what string, x float64, unit string) reference.Figure {
	key := "own-" + m.ID + "-" + short
	g.own.Add(sources.Entry{
		Key: key, Title: fmt.Sprintf("%s: own %s", m.Name, what), Publisher: "own measurement", Kind: "own",
		Place: g.Place(at),
	})
	return reference.Figure{
		Known: true, Low: x, Typical: x, High: x, Unit: unit, Basis: "as-is",
		Source: []string{key}, Confidence: sources.OwnMeasurement,
	}
}

// Place returns a place in the grower's files as it stands on a page: "cupboard.yaml:3", from the content
// folder.
func (g *Garden) Place(at diag.Position) string {
	return fmt.Sprintf("%s:%d", strings.TrimPrefix(at.Name(), g.folder+"/"), at.Line)
}

func (m *Material) readStock(n *form.Node) {
	if n == nil {
		return
	}
	if q, ok := form.Value(n, n.Values().Quantity); ok {
		m.Stock = &q
	}
}

func (m *Material) readPacks(n *form.Node) {
	if n == nil {
		return
	}
	if n.IsText() {
		n.Fault("not-list", "write \"packs: [{holds: 2 kg, price: 14.00}]\"", "a list of packs is needed here")
		return
	}
	for _, item := range n.Items() {
		f := item.Fields("holds", "price", "priced")
		holds, okHolds := form.Value(f.Need("holds", "write what the pack holds, such as \"holds: 2 kg\""), n.Values().Quantity)
		price, okPrice := form.Value(f.Need("price", "write its price, such as \"price: 14.00\""), units.ReadMoney)
		priced := valueOr(f.Get("priced"), units.ReadDate, time.Time{})
		if okHolds && okPrice {
			at := item.At()
			if day := f.Get("priced"); day != nil {
				at = day.At()
			}
			m.Packs = append(m.Packs, Pack{holds, price, priced, at})
		}
	}
}
