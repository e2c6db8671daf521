// Package view is the closed vocabulary of parts in which a kind arranges its result for people. A kind
// builds parts; one printer per format (text here, HTML in layouts) writes them. Text in parts is plain
// text, never markup.
package view

import (
	"slices"

	"trug/calcblocks/kit/sources"
)

// A Doc is a result arranged for people, top to bottom.
type Doc struct{ Parts []Part }

// A Part is one of the types in this file.
type Part interface{ part() }

// Paragraph is running text.
type Paragraph struct{ Text string }

// More heads a result that stands in a note and leads to its own page, where it has one. Href is relative
// to the note.
type More struct{ Title, Text, Href string }

// Steps is an ordered list of things to do. A step may carry the cautions that concern it.
type Steps struct {
	Title string
	Items []Step
}

// Step is one thing to do.
type Step struct {
	Text     string
	Cautions []Caution
}

// Pots shows containers as silhouettes at one common scale. With Pick they choose the size shown.
type Pots struct {
	Title string
	Items []Pot
}

// Pot is a container drawn from the front. Lengths in centimetres, inside. Width is what the front
// view shows: the diameter of a round pot, the length of a trough or an oval.
type Pot struct {
	Name        string // "Blue tub", "20 L"
	Volume      string // "about 20 L"
	Anchor      string // "for-20-l": what a reader picks by this pot; "" = not pickable
	Href        string // page of the pot, relative to the site; "" = none
	TopCM       float64
	BaseCM      float64
	HeightCM    float64
	FillCM      float64 // height of the fill line above the base
	Assumed     bool    // the shape is not known: drawn dashed
	Description string  // for screen readers: "round pot, 38 cm across the top, 34 cm deep"
	Dimensions  bool    // draw the dimensions too (a pot's own page)
}

// Sizes holds the same result for several container sizes; a reader looks at one at a time.
type Sizes struct {
	Title string
	Items []Size
	Own   *OwnPot // nil when the reader cannot ask for another container
}

// OwnPot is the same result for any container from From to To hundredths of a litre: for each amendment
// where the text changes. A script looks texts up in it; it computes nothing but a container's volume and that of the
// compost on top of it.
type OwnPot struct {
	From, To     int
	Base, Height float64 // of a round pot of the usual shape, in proportion to its top: for who measures the top alone
	Rows         []OwnRow
	Top          *OwnTop // nil without compost on top
}

// OwnTop is the compost on top of any container: a layer below its fill line, or a share of what it holds.
type OwnTop struct {
	Name  string  // in a sentence: "yard-trimmings compost"
	Text  string  // its measure as the author wrote it: "4 cm deep"
	Depth float64 // cm of a layer; 0 = Share says how much
	Share float64 // of the container's litres
	Loose float64 // litres to buy for each that is firmed
}

// OwnRow is one amendment: its measure by spoon set, and its grams.
type OwnRow struct {
	Amendment string
	Measures  map[string][]OwnStep
	Grams     []OwnStep
}

// OwnStep is a text and the hundredths of a litre from which it holds, up to the next step.
type OwnStep struct {
	From int
	Text string
}

// Size is the result for one container.
type Size struct {
	Label  string // "20 L"
	Anchor string // "for-20-l"
	Litres string // "20 L", or "12.9 to 20.4 L"
	Pot    Pot
	Notes  []string // "this shape is assumed"
	Parts  []Part
}

// Amounts is what goes in: one amendment a row, the measure first and large.
type Amounts struct {
	Title   string
	Sets    []string // spoon sets, the main one first: "us", "metric"
	Rows    []Amount
	Choices []Choice
}

// Choice is a named set of alternatives, joined by "or"; the first is the default.
type Choice struct {
	Name    string
	Options []Amount
}

// Amount is one amendment's row.
type Amount struct {
	Amendment  string            // id
	Name       string            // "Kelp meal"
	Measures   map[string]string // by spoon set: "1/4 to 1/2 cup"
	Grams      string            // "18 to 36 g"
	GramsFirst bool              // household rounding: the weight leads
	Error      string            // "rounded up by 3 %"; "" when it is nothing
	Reason     string            // "slow nitrogen, all season"
	Brings     string            // "0.5 g N, 0.6 g K2O": shown for the options of a choice
}

// Variants holds parts that follow what the reader picks among choices.
type Variants struct{ Items []Variant }

// Variant is one combination of picks.
type Variant struct {
	With    []string // picked amendment ids, one for each choice
	Label   string   // "with kelp meal"
	Default bool
	Parts   []Part
}

// Ticks is a list to tick off: what to buy.
type Ticks struct {
	Title string
	Items []Tick
}

// Tick is one line of a list to tick off.
type Tick struct {
	ID     string // stays the same over builds: the reader's tick hangs on it
	Text   string // "Kelp meal"
	Much   string // "2 × 500 g"
	Detail string // "6.50 each; 130 g left over"
}

// Figures is a short list of named results.
type Figures struct {
	Title string
	Rows  []Figure
}

// Figure is one named result. An unknown value has the text "not known".
type Figure struct {
	Label string
	Value string
	Note  string // what is missing, what it is compared with
}

// Table is a table of text.
type Table struct {
	Caption string
	Columns []Column
	Rows    [][]string // the first cell heads its row
	Notes   []string
}

// Column is the head of a column.
type Column struct {
	Head    string
	Numeric bool
}

// Bars compares low-to-high spans on one axis, each with an optional wanted band. The same numbers
// stand in a table.
type Bars struct {
	Title string
	Unit  string
	Rows  []Bar
}

// Bar is one span of a Bars.
type Bar struct {
	Label     string
	Low, High float64
	Need      *Band
	Text      string
}

// Band is a wanted span.
type Band struct{ Low, High float64 }

// Chart shows how quantities change along one axis, as weeks: a line for each, with the area between its low and
// high figures where it has one. The first line is solid, the second dashed, the third dotted. The same numbers
// stand in a table.
type Chart struct {
	Title  string
	Unit   string
	Across string    // what At counts: "week"
	At     []float64 // rising
	Lines  []Line    // at most three
}

// Line is one quantity of a Chart.
type Line struct {
	Label  string
	Points []Point // one for each place of At
}

// Point is a quantity at one place. Low and High equal Typical where it has no range.
type Point struct{ Low, Typical, High float64 }

// Ranged says whether some point of the line has a range.
func (l Line) Ranged() bool {
	return slices.ContainsFunc(l.Points, func(p Point) bool { return p.Low < p.High })
}

// Ends returns the least and the greatest figure of a chart, which holds zero.
func (c Chart) Ends() (least, most float64) {
	for _, l := range c.Lines {
		for _, p := range l.Points {
			least, most = min(least, p.Low, p.Typical), max(most, p.High, p.Typical)
		}
	}
	return least, most
}

// Dots compares groups of single values on one axis: a dot for each value, a mark for the mean, a line for
// its interval. The axis need not start at zero. The same numbers stand in a table.
type Dots struct {
	Title   string
	Unit    string
	Percent float64 // of the intervals: 95
	Rows    []Dot
}

// Dot is one group of a Dots.
type Dot struct {
	Label    string
	Values   []float64
	Mean     float64
	Interval *Band // of the mean; nil where the values are too few for one
	Text     string
}

// Cautions is a list of cautions.
type Cautions struct {
	Title string
	Items []Caution
}

// Caution is calm and concrete, and defers to the label, local code or licensed practice.
type Caution struct {
	ID      string
	Word    string // "Dust", "Over the limit": stands beside the icon
	Text    string
	Defer   string // "Follow the label."
	Sources []string
	Guard   bool // raised by this block's own numbers, not by the nature of a material
}

// Section is a cut through a pot: layers from the base up.
type Section struct {
	Title  string
	Pot    Pot
	Layers []Layer
	Marks  []Mark
}

// Mark is a level in a Section that no layer shows: where the old mix stood.
type Mark struct {
	Label string
	AtCM  float64 // above the base
}

// Layer is one layer of a Section. Heights in centimetres above the base.
type Layer struct {
	Kind         string // old, compost, mix, room, headspace
	Label        string
	FromCM, ToCM float64
	Width        string
}

// Working is the arithmetic of a result, step by step.
type Working struct {
	Title string
	Steps []WorkingStep
}

// WorkingStep is one line of arithmetic.
type WorkingStep struct {
	What    string // "kelp meal, grams"
	Sum     string // "118.3 mL x 0.70 g/mL = 82.8 g"
	Sources []string
}

// Listing is source text to copy.
type Listing struct {
	Title    string
	Language string
	Text     string
}

// Bibliography lists the works that the result rests on.
type Bibliography struct {
	Title   string
	Entries []sources.Entry
}

func (Paragraph) part()    {}
func (More) part()         {}
func (Steps) part()        {}
func (Pots) part()         {}
func (Sizes) part()        {}
func (Amounts) part()      {}
func (Variants) part()     {}
func (Ticks) part()        {}
func (Figures) part()      {}
func (Table) part()        {}
func (Bars) part()         {}
func (Chart) part()        {}
func (Dots) part()         {}
func (Cautions) part()     {}
func (Section) part()      {}
func (Working) part()      {}
func (Listing) part()      {}
func (Bibliography) part() {}
