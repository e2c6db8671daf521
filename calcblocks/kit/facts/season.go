package facts

import (
	"time"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// Event is one line of a diary, for one pot.
type Event struct {
	At        diag.Position // the line
	CropAt    diag.Position // its crop, the line where it names none
	On        time.Time
	Pot       string
	Did       string            // renewed, planted, sown, fed, harvested, noted
	Crop      string            // id, "" when not told
	Plants    int               // 0 = not told
	With      string            // a recipe id, an amendment id, or ""
	Picks     []string          // among the recipe's choices
	Amount    string            // of the amendment, as written; "" when not told
	Portions  [2][]dose.Portion // what was added, at the low and the high end of the amounts
	Unweighed []string          // ids of amendments that were added and whose mass is not known
	Fresh     units.SomeShare   // of the refilled mix that a renewal replaced; zero = not told
	OldMixTo  string            // where a renewal's old mix went: a pot id, "heap", "discard", or ""
	Yield     units.Mass        // zero = not told
	Note      string
	Disease   string // what its note or its disease says was found, as the reference names it, or ""
	Unfit     string // that disease when it makes the mix unfit for use again, else ""
}

// Plan says that a plan is there; its Plantings may be missing when it has faults.
type Plan struct {
	At        diag.Position
	ID, Title string
	Season    int     // the year in which it begins
	NewMix    float64 // litres firmed that its pots want besides compost and old mix
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

// Move is old mix that leaves a pot, in a plan or by a diary.
type Move struct {
	At       diag.Position
	Plan     string    // "" for a diary's
	On       time.Time // of a diary's; zero in a plan, where it moves before the season's planting
	From, To string    // pot ids; To is "heap" or "discard" where it goes to no pot
	Litres   float64   // 0 = not known
}

// Job is something to do in a window of days.
type Job struct {
	At       diag.Position
	ID       string // stays the same over builds and changes of the date
	Job      string // renew, sow indoors, sow, plant, feed, top-dress, last sowing
	Crop     string // id, "" for none
	Pot      string // id, "" for none
	From, To time.Time
	Own      bool   // the author dated it
	Text     string // one line for people: "Sow cucumber indoors, in net pots"
	Gate     string // "when the mix is at 15 C or more", "" for none
}

// Conflict is a return of a plant family to a pot sooner than it should, or any crop in a mix that is unfit.
type Conflict struct {
	At, Before diag.Position // the planting, and what it comes too soon after
	Plan       string        // id of the plan that asks for the planting, "" for one of a diary
	Pot, Crop  string        // ids
	Family     string        // id, "" when the crop's is not known
	Year       int           // of the planting
	LastYear   int           // in which the family, or the disease, was last there
	Wait       int           // years still to wait; 0 with Never
	Never      bool          // the mix does not become fit by waiting
	Text       string        // sentences for people
	Sources    []string      // keys of the bibliography
}

func (Event) fact()    {}
func (Plan) fact()     {}
func (Planting) fact() {}
func (Move) fact()     {}
func (Job) fact()      {}
func (Conflict) fact() {}
