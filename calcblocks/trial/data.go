package trial

import (
	"math/big"

	"trug/calcblocks/kit/data"
)

func (c *computation) tree() data.Object {
	out := data.Object{
		{Key: "id", Value: data.Text(c.pass.ID)},
		{Key: "kind", Value: data.Text("trial")},
		{Key: "title", Value: data.Text(c.name())},
		{Key: "stamp", Value: data.Null{}},
		{Key: "unit", Value: data.TextOrNull(c.unitText)},
		{Key: "paired", Value: data.Flag(c.paired)},
		{Key: "groups", Value: c.groupsTree()},
	}
	out = append(out, c.headTree()...)
	return append(
		out,
		data.Field{Key: "comparisons", Value: c.comparisonsTree()},
		data.Field{Key: "missing", Value: data.Texts(c.missing())},
		data.Field{Key: "cautions", Value: data.List{}},
		data.Field{Key: "sources", Value: data.Null{}},
	)
}

func (c *computation) groupsTree() data.List {
	out := data.List{}
	for i, s := range c.sums {
		out = append(out, data.Object{
			{Key: "name", Value: data.Text(c.groups[i].name)},
			{Key: "n", Value: data.Number(s.N)},
			{Key: "mean", Value: numberIf(s.N > 0, s.Mean)},
			{Key: "sd", Value: numberIf(s.N > 1, s.SD)},
			{Key: "interval", Value: c.meanTree(s)},
			{Key: "values", Value: valuesTree(c.values[i])},
		})
	}
	return out
}

func numberIf(known bool, x float64) data.Value {
	if !known {
		return data.Null{}
	}
	return data.Number(x)
}

func valuesTree(values []*big.Rat) data.List {
	out := data.List{}
	for _, x := range values {
		f, _ := x.Float64()
		out = append(out, data.Number(f))
	}
	return out
}

// meanTree is the interval of a group's mean, null below three values.
func (c *computation) meanTree(s Sample) data.Value {
	if s.N < leastForFigures {
		return data.Null{}
	}
	low, high := MeanInterval(s, c.level)
	return c.interval(low, high)
}

func (c *computation) interval(low, high float64) data.Object {
	return append(data.Pair(low, high), data.Field{Key: "percent", Value: data.Number(100 * c.level)})
}

// headTree is the comparison of two groups; of more there is none that stands for all, so it is null.
func (c *computation) headTree() data.Object {
	if len(c.pairs) == 1 {
		return c.pairTree(c.pairs[0])
	}
	out := c.pairTree(pair{verdict: tooFew})
	return out.With("verdict", data.Null{})
}

func (c *computation) comparisonsTree() data.List {
	out := data.List{}
	for _, p := range c.pairs {
		head := data.Object{
			{Key: "name", Value: data.Text(c.groups[0].name + " less " + c.groups[p.other].name)},
			{Key: "first", Value: data.Text(c.groups[0].name)},
			{Key: "second", Value: data.Text(c.groups[p.other].name)},
		}
		out = append(out, append(head, c.pairTree(p)...))
	}
	return out
}

func (c *computation) pairTree(p pair) data.Object {
	told := p.verdict != tooFew
	interval := data.Value(data.Null{})
	if p.Known {
		interval = c.interval(p.Low, p.High)
	}
	return data.Object{
		{Key: "difference", Value: numberIf(told, p.Difference)},
		{Key: "standard_error", Value: numberIf(p.Known, p.SE)},
		{Key: "t", Value: numberIf(p.Known, p.T)},
		{Key: "df", Value: numberIf(p.Known, p.DF)},
		{Key: "p", Value: numberIf(p.Known, p.P)},
		{Key: "interval", Value: interval},
		{Key: "verdict", Value: data.Text(p.verdict)},
	}
}
