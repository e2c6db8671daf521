// Package dates computes the kind "dates": when to renew, sow, plant, feed and harvest, counted from the
// frost dates of the place.
package dates

import (
	_ "embed"
	"regexp"
	"slices"
	"strconv"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/season"
	"trug/calcblocks/kit/units"
)

//go:embed doc.md
var doc string

// Kind is the kind "dates". It reads the plantings of plans.
var Kind = block.Kind{Name: "dates", Doc: doc, Phase: 3, Parse: parse}

// dates is the block as the author wrote it.
type dates struct {
	at     *form.Node
	crops  []crop
	plan   *form.Node
	year   int // 0 = not told
	frost  frostDates
	minima *form.Node // name of a file
	offset float64    // C by which the pots are warmer than the station
}

// frostDates are average frost dates as month and day; a zero month is not told.
type frostDates struct {
	spring, autumn     units.MonthDay
	springAt, autumnAt diag.Position
}

// crop is one crop of the list with the author's own dates for its jobs.
type crop struct {
	id  string
	at  *form.Node
	own map[string]own
}

type own struct {
	when units.When
	at   *form.Node
}

func parse(n *form.Node) block.Block {
	m := n.Fields("crops", "plan", "season", "frost", "minima", "offset")
	d := &dates{at: n, plan: m.Get("plan")}
	if m.Get("crops") == nil && d.plan == nil && n.IsMapping() {
		n.Fault("missing-key", "write \"crops: [tomato, lettuce]\", or \"plan: ID\" for the crops of a plan", "one of crops, plan is missing")
	}
	d.readCrops(m.Get("crops"))
	if v := m.Get("season"); v != nil {
		d.year, _ = form.Value(v, readYear)
	}
	d.readFrost(m.Get("frost"))
	if v := m.Get("minima"); v != nil {
		if d.minima != nil {
			v.Fault("two-minima", "keep one of the two", "the file of daily minima is named twice")
		}
		d.minima = v
	}
	if v := m.Get("offset"); v != nil {
		d.offset, _ = form.Value(v, readOffset)
	}
	return d
}

func (d *dates) readFrost(n *form.Node) {
	if n == nil {
		return
	}
	m := n.Fields("spring", "autumn", "minima")
	read := func(v *form.Node) (units.MonthDay, diag.Position) {
		if v == nil {
			return units.MonthDay{}, diag.Position{}
		}
		day, _ := form.Value(v, units.ReadMonthDay)
		return day, v.At()
	}
	d.frost.spring, d.frost.springAt = read(m.Get("spring"))
	d.frost.autumn, d.frost.autumnAt = read(m.Get("autumn"))
	d.minima = m.Get("minima")
}

// readCrops reads a list of ids, or a mapping of ids with the author's own dates.
func (d *dates) readCrops(n *form.Node) {
	if n == nil {
		return
	}
	if n.IsMapping() {
		for _, e := range n.Mapping().Entries {
			d.addCrop(crop{id: e.Name, at: e.Key, own: readOwn(e.Value)})
		}
		return
	}
	for _, item := range n.Items() {
		if id, ok := item.Text(); ok {
			d.addCrop(crop{id: id, at: item})
		}
	}
}

func (d *dates) addCrop(c crop) {
	if i := slices.IndexFunc(d.crops, func(have crop) bool { return have.id == c.id }); i >= 0 {
		fault := diag.Errorf(c.at.At(), "repeated-crop", "the crop %q stands here again", c.id)
		d.at.Report(fault.Hint("name each crop once").Also(d.crops[i].at.At(), "the first is here"))
		return
	}
	d.crops = append(d.crops, c)
}

func readOwn(n *form.Node) map[string]own {
	out := map[string]own{}
	for _, e := range n.Fields(season.Dated()...).Entries {
		if !slices.Contains(season.Dated(), e.Name) {
			continue
		}
		if when, ok := form.Value(e.Value, units.ReadWhen); ok {
			out[e.Name] = own{when, e.Value}
		}
	}
	return out
}

var (
	yearText   = regexp.MustCompile(`^(19|20|21)\d\d$`)
	offsetText = regexp.MustCompile(`^([+-]?\d+(?:\.\d+)?) ?°?([CF])$`)
)

func readYear(text string) (int, error) {
	if !yearText.MatchString(text) {
		return 0, units.Faultf(0, "bad-season", "write the year in which the season begins, such as 2027", "%q is not a season", text)
	}
	year, _ := strconv.Atoi(text) // four digits
	return year, nil
}

// readOffset reads a difference of temperatures, such as "1.5 C" or "-2 F", in C.
func readOffset(text string) (float64, error) {
	m := offsetText.FindStringSubmatch(text)
	if m == nil {
		return 0, units.Faultf(0, "bad-offset", "write by how much the pots are warmer than the station, such as \"1.5 C\", or \"-1 C\" where they are colder", "%q is not a difference of temperatures", text)
	}
	x, _ := strconv.ParseFloat(m[1], 64) // digits
	if m[2] == "F" {
		x *= 5.0 / 9
	}
	if x < -20 || x > 20 {
		return 0, units.Faultf(0, "bad-offset", "a wall or a hollow makes a few degrees", "%q is more than a place differs from its station", text)
	}
	return x, nil
}
