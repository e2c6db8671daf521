package main

import (
	"fmt"
	"strings"

	"trug/builder"
	"trug/calcblocks/kit/data"
)

// list prints every block of a handbook, a line each, notes in order, then recipe files, then what the plans
// ask for.
func (c Console) list(h *builder.Handbook, as string) error {
	if as == "json" {
		_, err := c.Out.Write(data.JSON(listTree(h.Blocks)))
		return err
	}
	if len(h.Blocks) == 0 {
		fmt.Fprintln(c.Out, "the handbook has no blocks")
		return nil
	}
	var rows [][]string
	for _, p := range h.Blocks {
		title := titleOf(p)
		if p.Implied() {
			title += " (asked for by the plan)"
		}
		rows = append(rows, []string{p.Kind.Name, p.ID, p.Place(), title})
	}
	for _, line := range columns(rows) {
		fmt.Fprintln(c.Out, line)
	}
	return nil
}

// columns lines up rows of equally many cells, two blanks apart.
func columns(rows [][]string) []string {
	widest := make([]int, len(rows[0]))
	for _, row := range rows {
		for i, cell := range row {
			widest[i] = max(widest[i], len([]rune(cell)))
		}
	}
	var out []string
	for _, row := range rows {
		line := ""
		for i, cell := range row {
			line += fmt.Sprintf("%-*s  ", widest[i], cell)
		}
		out = append(out, strings.TrimRight(line, " "))
	}
	return out
}

func listTree(all []*builder.Placed) data.Object {
	blocks := data.List{}
	for _, p := range all {
		blocks = append(blocks, data.Object{
			{Key: "kind", Value: data.Text(p.Kind.Name)},
			{Key: "id", Value: data.TextOrNull(p.ID)},
			{Key: "title", Value: data.Text(titleOf(p))},
			{Key: "file", Value: data.Text(p.At.Name())},
			{Key: "line", Value: data.Number(p.At.Line)},
			{Key: "implied", Value: data.Flag(p.Implied())},
		})
	}
	return data.Object{{Key: "blocks", Value: blocks}}
}
