package season

import (
	"slices"
	"strings"
	"time"

	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// A Season is the frost dates that a year's jobs are counted from. A zero date is not known.
type Season struct {
	Spring, Autumn time.Time // average last and average first frost: the 50 % dates
	Years          bool      // the year is told, so that dates are printed with it
}

// Of returns the season that begins in a year, from the month and day of its frosts; a zero month is not
// known. South of the equator the autumn frost comes in the year after.
func Of(year int, spring, autumn units.MonthDay, years bool) Season {
	s := Season{Years: years}
	if spring.Month > 0 {
		s.Spring = In(year, spring)
	}
	if autumn.Month > 0 {
		s.Autumn = In(year, autumn)
	}
	if !s.Spring.IsZero() && !s.Autumn.IsZero() && s.Autumn.Before(s.Spring) {
		s.Autumn = In(year+1, autumn)
	}
	return s
}

// Resolve returns the day of a date or of a time counted from a frost; false when the frost is not known, or
// when the time counts from planting or sowing, which belong to a crop.
func (s Season) Resolve(w units.When) (time.Time, bool) {
	from := w.Date
	switch w.Event {
	case "":
		return from, true
	case "spring frost":
		from = s.Spring
	case "autumn frost":
		from = s.Autumn
	}
	return from.AddDate(0, 0, w.Days), !from.IsZero()
}

// A Job is one job of a crop with its window of days, both ends included.
type Job struct {
	Name     string // sow indoors, harden off, plant, sow, renew, feed, top-dress, harvest, last sowing
	Text     string // for people: "Sow cucumber indoors, in plugs or open net pots"
	Gate     string // what else counts: "when the mix is at 18 C (64 F) or more", "" for nothing
	From, To time.Time
	Sum      string // the arithmetic
	Sources  []string
	InPot    bool // it is done in the pot where the crop grows
}

// Options are what is special about a crop's season in one pot.
type Options struct {
	Wait facts.Wait            // weeks between mixing in and sowing or planting
	Own  map[string]units.When // the grower's own dates by the name of the job
}

// Names lists the jobs in the order of a year; the first six can be given a date of the grower's own.
var Names = []string{"renew", "sow indoors", "sow", "plant", "feed", "top-dress", "harden off", "last sowing", "harvest"}

// Dated lists the jobs that a grower can give a date.
func Dated() []string { return Names[:6] }

// A Plan is the jobs of a crop in a season.
type Plan struct {
	Jobs    []Job
	Unknown []string // names of own dates that cannot be worked out, such as one that counts from no known day
	Idle    bool     // nothing says when the crop is started
	Short   Note     // why the season may be too short for the crop
	Late    Note     // why the grower's own day of renewing the mix is too late
}

// A Note is a sentence with its sources; "" where there is nothing to say.
type Note struct {
	Text    string
	Sources []string
}

// Job returns the job of a name, nil without one.
func (p Plan) Job(name string) *Job {
	i := slices.IndexFunc(p.Jobs, func(j Job) bool { return j.Name == name })
	if i < 0 {
		return nil
	}
	return &p.Jobs[i]
}

// Nursery is what crops that resent root disturbance are sown in.
const Nursery = "plugs or open net pots"

// Whole says whether a crop's roots take handling badly, so that it is set out with its root ball unbroken.
func Whole(lib *reference.Library, c *reference.Crop) bool {
	list, ok := lib.Text("season", "whole_ball", "crops")
	return ok && slices.Contains(strings.Split(list, ", "), c.ID)
}

// CropWords returns a crop's name as it stands in a sentence: "tomato", and "tomato (dwarf or patio)" for the
// kind that is not the usual one.
func CropWords(c *reference.Crop) string {
	name, kind, _ := strings.Cut(c.Name, ", ")
	if name = view.Small(name); kind == "" || name == c.ID {
		return name
	}
	return name + " (" + kind + ")"
}
