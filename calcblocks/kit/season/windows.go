package season

import (
	"fmt"
	"math"
	"strings"
	"time"

	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// shortest is how many days a window has at least beside its first: the tables count in weeks, so that a
// single week number means that week.
const shortest = 6

// maker makes the jobs of one crop.
type maker struct {
	Season
	lib                 *reference.Library
	crop                *reference.Crop
	o                   Options
	name                string
	indoors, plant, sow *Job
	out                 Plan
}

// Jobs returns the jobs of a crop: sowing and planting by its weeks from the average last frost (crops.yaml)
// or by the grower's own dates, and what follows from them (season.md, sections 1.2 and 1.6).
func (s Season) Jobs(lib *reference.Library, c *reference.Crop, o Options) Plan {
	m := &maker{Season: s, lib: lib, crop: c, o: o, name: CropWords(c)}
	m.starts()
	m.renew()
	m.add(m.indoors)
	m.hardenOff()
	m.add(m.sow)
	m.add(m.plant)
	m.feed()
	m.topDress()
	m.harvest()
	m.out.Idle = m.plant == nil && m.sow == nil
	return m.out
}

func (m *maker) add(j *Job) {
	if j != nil {
		m.out.Jobs = append(m.out.Jobs, *j)
	}
}

// starts finds when the crop is sown and planted out.
func (m *maker) starts() {
	whole := Whole(m.lib, m.crop)
	m.plant, m.sow, m.indoors = m.weeks(m.crop.Transplant), m.weeks(m.crop.SowOutdoors), m.weeks(m.crop.SowIndoors)
	if whole && m.plant == nil && m.sow != nil {
		m.plugs()
	}
	m.ownStarts()
	if m.indoors != nil {
		m.indoors.Name, m.indoors.Text = "sow indoors", "Sow "+m.name+" indoors"
		if whole {
			m.indoors.Text += ", in " + Nursery
		}
		m.indoors.Gate = seedbed(m.crop, m.indoors)
	}
	if m.sow != nil {
		m.sow.Name, m.sow.Text, m.sow.InPot = "sow", "Sow "+m.name+" where it grows", true
		m.sow.Gate = warm("the mix", m.soil(), m.sow)
	}
	if m.plant != nil {
		m.plant.Name, m.plant.Text, m.plant.InPot = "plant", "Plant out "+m.name, true
		if whole {
			m.plant.Text += ", root ball whole"
			m.plant.Sources = append(m.plant.Sources, m.lib.Must("season", "whole_ball", "age").Source...)
		}
		m.plant.Gate = warm("the mix", m.soil(), m.plant)
	}
}

// soil is the realistic temperature for sowing or planting, else the least for germination.
func (m *maker) soil() reference.Figure {
	if m.crop.SoilRealistic.Known {
		return m.crop.SoilRealistic
	}
	return m.crop.SoilMin
}

// warm is the gate of a temperature, whose sources join those of the job.
func warm(what string, f reference.Figure, j *Job) string {
	if !f.Known {
		return ""
	}
	j.Sources = append(j.Sources, f.Source...)
	return fmt.Sprintf("when %s is at %s or more", what, Degrees(f.Typical))
}

// seedbed is the gate of sowing indoors: the range in which seed comes up best, else the least.
func seedbed(c *reference.Crop, j *Job) string {
	f := c.SoilRange
	if !f.Known || f.OpenLow || f.OpenHigh {
		return warm("the seed", c.SoilMin, j)
	}
	j.Sources = append(j.Sources, f.Source...)
	return fmt.Sprintf("with the seed at %s C (%.0f to %.0f F)", view.Span(f.Low, f.High), f.Low*9/5+32, f.High*9/5+32)
}

// Degrees prints a temperature in C and, rounded, in F.
func Degrees(celsius float64) string {
	return fmt.Sprintf("%s C (%.0f F)", view.Number(celsius), celsius*9/5+32)
}

// plugs dates a crop that is usually sown where it grows but resents handling: its plugs are set out in the
// later part of the sowing window, when a tender plant may go out, and are sown two to three weeks before.
func (m *maker) plugs() {
	f, age := m.crop.SowOutdoors, m.lib.Must("season", "whole_ball", "age")
	m.plant = m.window("last frost", m.Spring, 7*f.Typical, 7*f.High, f.Source)
	m.indoors = m.window("planting out "+m.day(m.plant.From), m.plant.From, -7*age.High, -7*age.Low, age.Source)
	m.indoors.Sum = fmt.Sprintf("planting out %s - %s = %s", m.day(m.plant.From), weeksOf(age.Low, age.High), Words(m.indoors.From, m.indoors.To, m.Years))
}

// weeks returns the window between two weeks counted from the average last frost, nil when either is not
// known.
func (m *maker) weeks(f reference.Figure) *Job {
	if !f.Known || m.Spring.IsZero() {
		return nil
	}
	return m.window("last frost", m.Spring, 7*f.Low, 7*f.High, f.Source)
}

// window returns the days between two distances from a day, at least a week.
func (m *maker) window(what string, from time.Time, low, high float64, sources []string) *Job {
	j := &Job{From: from.AddDate(0, 0, rounded(low)), To: from.AddDate(0, 0, rounded(high)), Sources: append([]string(nil), sources...)}
	j.Sum = fmt.Sprintf("%s %s %s = %s", what, m.day(from), apart(low), m.day(j.From))
	if least := j.From.AddDate(0, 0, shortest); j.To.Before(least) {
		j.To = least
		j.Sum += ", and that week, to " + m.day(j.To)
		return j
	}
	j.Sum += fmt.Sprintf("; %s = %s", apart(high), m.day(j.To))
	return j
}

func rounded(days float64) int { return int(math.Round(days)) }

func (m *maker) day(t time.Time) string { return Words(t, t, m.Years) }

// apart prints a distance in days as "+ 2 weeks" or "- 10 days".
func apart(days float64) string {
	sign, n := "+", rounded(days)
	if n < 0 {
		sign, n = "-", -n
	}
	if n%7 == 0 {
		return sign + " " + count(n/7, "week")
	}
	return sign + " " + count(n, "day")
}

func count(n int, unit string) string {
	if n == 1 {
		return "1 " + unit
	}
	return fmt.Sprintf("%d %ss", n, unit)
}

func weeksOf(low, high float64) string {
	if low == 1 && high == 1 {
		return "1 week"
	}
	return view.Span(low, high) + " weeks"
}

// ownStarts puts the grower's own dates in the place of the usual ones. Seedlings move with their planting
// day, so that they have their usual age.
func (m *maker) ownStarts() {
	usual := m.plant
	m.plant = m.own("plant", m.plant, nil, nil)
	if usual != nil && m.indoors != nil && !m.plant.From.Equal(usual.From) {
		moved := rounded(m.plant.From.Sub(usual.From).Hours() / 24)
		m.indoors = &Job{
			From: m.indoors.From.AddDate(0, 0, moved), To: m.indoors.To.AddDate(0, 0, moved), Sources: m.indoors.Sources,
			Sum: m.indoors.Sum + fmt.Sprintf("; moved with planting out %s", apart(float64(moved))),
		}
	}
	m.sow = m.own("sow", m.sow, m.plant, nil)
	m.indoors = m.own("sow indoors", m.indoors, m.first(), m.sow)
}

// first is what "planting" means: planting out, or sowing in the pot where the crop is only sown.
func (m *maker) first() *Job {
	if m.plant != nil {
		return m.plant
	}
	return m.sow
}

// own returns the window that the grower's own date gives to a job, as long as the usual one. A date may
// count from the days of planting and sowing, where they are known.
func (m *maker) own(name string, usual, planting, sowing *Job) *Job {
	when, told := m.o.Own[name]
	if !told {
		return usual
	}
	from, ok := m.Resolve(when)
	switch {
	case when.Event == "planting" && planting != nil:
		from = planting.From.AddDate(0, 0, when.Days)
	case when.Event == "sowing" && sowing != nil:
		from = sowing.From.AddDate(0, 0, when.Days)
	case when.Event == "planting" || when.Event == "sowing" || !ok:
		m.out.Unknown = append(m.out.Unknown, name)
		return usual
	}
	j := &Job{From: from, To: from.AddDate(0, 0, shortest)}
	if usual != nil {
		*j = *usual
		j.From, j.To = from, from.Add(usual.To.Sub(usual.From))
	}
	j.Sum = "your own date: " + ownWords(when) + m.day(from)
	return j
}

func ownWords(w units.When) string {
	if w.Event == "" {
		return ""
	}
	if w.Days == 0 {
		return w.Event + " = "
	}
	return strings.Join([]string{w.Event, apart(float64(w.Days)), "= "}, " ")
}
