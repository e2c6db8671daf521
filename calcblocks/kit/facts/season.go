package facts

import (
	"time"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// Event is one line of a diary.
type Event struct {
	At       diag.Position
	On       time.Time
	Pot      string
	Did      string // renewed, planted, sown, fed, harvested, noted
	Crop     string // id, "" when not told
	With     string // a recipe id, an amendment id, or ""
	Portions []dose.Portion
	Yield    units.Mass // zero = not told
	Note     string
	Unfit    string // the disease in its note that makes the mix unfit for use again, "" for none
}

// Planting is what a plan puts into a pot in a season.
type Planting struct {
	At      diag.Position
	Plan    string // id of the plan
	Season  int    // the year in which the season begins
	Pot     string
	Crop    string // id, "" for none
	Plants  int
	Recipe  string // id, "" for none
	With    []string
	Content Portioned
	Parts   []view.Part // the pot's season for the pot's page: amounts, old mix out, compost in
	Data    data.Object // as one of the "pots" of the plan's JSON
}

// Move is old mix that leaves a pot in a plan.
type Move struct {
	At       diag.Position
	Plan     string
	From, To string // pot ids; To is "heap" or "discard" where it goes to no pot
	Litres   float64
}

// Job is something to do in a window of days.
type Job struct {
	At       diag.Position
	ID       string // stays the same over builds and changes of the date
	Job      string // renew, sow indoors, sow, plant, feed, top-dress, last sowing
	Crop     string // id, "" for none
	Pot      string // id, "" for none
	From, To time.Time
	Text     string // one line for people: "Sow cucumber indoors, in net pots"
	Gate     string // "when the mix is at 15 C or more", "" for none
}

// Conflict is a return of a plant family to a pot sooner than it should.
type Conflict struct {
	At, Before diag.Position
	Pot, Text  string
}

func (Event) fact()    {}
func (Planting) fact() {}
func (Move) fact()     {}
func (Job) fact()      {}
func (Conflict) fact() {}
