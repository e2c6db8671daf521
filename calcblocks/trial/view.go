package trial

import (
	"fmt"
	"math"
	"strconv"

	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/view"
)

func (c *computation) parts(entries []sources.Entry) []view.Part {
	var parts []view.Part
	for _, p := range c.pairs {
		parts = append(parts, view.Paragraph{Text: c.sentence(p)})
	}
	parts = append(parts, c.dots())
	for _, note := range c.notes() {
		parts = append(parts, view.Paragraph{Text: note})
	}
	return append(parts, c.table(), view.Working{Title: "Working", Steps: c.working()}, view.Bibliography{Title: "Sources", Entries: entries})
}

// sentence says what a comparison shows, in words that go no further than the pots do.
func (c *computation) sentence(p pair) string {
	first, second := c.groups[0].name, c.groups[p.other].name
	means := fmt.Sprintf("%s averages %s than %s", first, c.side(p.Difference), second)
	span := fmt.Sprintf("the %s %% interval runs from %s to %s", view.Exact(100*c.level), c.side(p.Low), c.side(p.High))
	switch p.verdict {
	case tooFew:
		return fmt.Sprintf("Too few pots to tell: %s has %d, %s has %d. A comparison needs %d a side, a verdict %d.",
			first, c.sums[0].N, second, c.sums[p.other].N, leastForFigures, leastForVerdict)
	case noVerdict:
		if !p.Known {
			return fmt.Sprintf("No verdict below %d pots a side: %s.", leastForVerdict, means)
		}
		return fmt.Sprintf("No verdict below %d pots a side: %s, and %s.", leastForVerdict, means, span)
	case alike:
		return fmt.Sprintf("No verdict: %s, but no value differs from the others of its group, so nothing tells how far chance reaches. Measure more finely.", means)
	case notShown:
		return fmt.Sprintf("A difference is not shown: %s, and %s. There may still be one: more pots would narrow it.", means, span)
	case onlyJust:
		return fmt.Sprintf("A difference is only just shown: %s, but %s, close to none (p %s). Repeat the trial before you build on it.", means, span, probability(p.P))
	}
	return fmt.Sprintf("A difference is shown: %s; %s (p %s).", means, span, probability(p.P))
}

// side says how far and to which side a difference lies: "35 g more".
func (c *computation) side(x float64) string {
	words := figure(math.Abs(x))
	if c.unitText != "" {
		words += " " + c.unitText
	}
	if x < 0 {
		return words + " less"
	}
	return words + " more"
}

// mean prints a mean: whole numbers from 1000 up, so that means that lie close are still told apart.
func mean(x float64) string {
	if math.Abs(x) >= 1000 {
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	return figure(x)
}

// figure prints three significant digits.
func figure(x float64) string {
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'e', 2, 64), 64) // what was written reads back
	return strconv.FormatFloat(rounded+0, 'f', -1, 64)
}

func probability(p float64) string {
	if p < 0.0001 {
		return "below 0.0001"
	}
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(p, 'e', 1, 64), 64)
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}

func (c *computation) dots() view.Dots {
	d := view.Dots{Title: "Pot by pot", Unit: c.unitText, Percent: 100 * c.level}
	for i, s := range c.sums {
		row := view.Dot{Label: c.groups[i].name, Mean: s.Mean, Text: fmt.Sprintf("n %d", s.N)}
		for _, x := range c.values[i] {
			f, _ := x.Float64()
			row.Values = append(row.Values, f)
		}
		if s.N > 0 {
			row.Text += ", mean " + mean(s.Mean)
		}
		if s.N > 1 {
			row.Text += ", SD " + figure(s.SD)
		}
		if s.N >= leastForFigures {
			low, high := MeanInterval(s, c.level)
			row.Interval = &view.Band{Low: low, High: high}
		}
		d.Rows = append(d.Rows, row)
	}
	return d
}

// notes say what the figures rest on.
func (c *computation) notes() []string {
	var out []string
	if missing := c.missing(); len(missing) > 0 {
		out = append(out, "The diary tells of no weighed harvest of "+view.And(missing)+": left out, not taken for nothing.")
		if c.paired {
			out[0] += " The pair goes with it."
		}
	}
	if n := len(c.pairs); n > 1 {
		chance := 100 * (1 - math.Pow(c.level, float64(n)))
		out = append(out, fmt.Sprintf("Each of the %d comparisons may show a difference by chance alone; that at least one does so happens up to %s %% of the time. Take a single one among them for a hint, and try it again by itself.", n, view.Number(chance)))
	}
	if c.paired {
		out = append(out, "Compared pair by pair: the lines in the drawing are those of each group by itself and are wider than the pairs need.")
	}
	return append(out, "These figures suppose random places, plants of one size and age, and one change at a time. Plants that share a pot count as one.")
}

func (c *computation) table() view.Table {
	t := view.Table{Caption: "First group less each other one", Columns: []view.Column{
		{Head: "Difference"},
		{Head: "Mean", Numeric: true},
		{Head: view.Exact(100*c.level) + " % interval", Numeric: true},
		{Head: "t", Numeric: true},
		{Head: "df", Numeric: true},
		{Head: "p", Numeric: true},
		{Head: "Verdict"},
	}}
	for _, p := range c.pairs {
		row := []string{c.groups[0].name + " less " + c.groups[p.other].name, "", "", "", "", "", p.verdict}
		if p.verdict != tooFew {
			row[1] = figure(p.Difference)
		}
		if p.Known {
			row[2] = figure(p.Low) + " to " + figure(p.High)
			row[3], row[4], row[5] = figure(p.T), figure(p.DF), probability(p.P)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
