package data

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// FuzzCSV puts any texts into a tree and reads its CSV as another program does (encoding/csv, RFC 4180): one
// line a leaf, each text as it was but for a mark in front of what a spreadsheet would run.
func FuzzCSV(f *testing.F) {
	for _, s := range []string{
		"", "kelp meal", "=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", `a,"b"`, "a;=1+1", "a\t=1", "＝1+1", " =1", "a\r\n=1", "'=1", "\r'\n",
	} {
		f.Add(s, "plain", -1.5)
		f.Add("label", s, 2e20)
	}
	f.Fuzz(func(t *testing.T, name, text string, x float64) {
		if x != x || x-x != 0 {
			x = 0 // numbers that are not finite are Null
		}
		tree := Object{{"id", Text(text)}, {"of", List{Object{{"name", Text(name)}, {"x", Number(x)}}, Text(name)}}}
		rows, err := csv.NewReader(bytes.NewReader(CSV(tree))).ReadAll()
		require.NoError(t, err)
		require.Len(t, rows, 5)
		require.Equal(t, []string{"path", "value"}, rows[0])
		for _, i := range []int{1, 2, 4} {
			assertPlain(t, rows[i][0])
			assertPlain(t, rows[i][1])
		}
		require.Equal(t, lines(text), strings.ReplaceAll(rows[1][1], mark, ""))
		require.Equal(t, lines(name), strings.ReplaceAll(rows[2][1], mark, ""))
		require.Equal(t, number(x), rows[3][1])
		for _, cell := range []string{name, text} {
			var b bytes.Buffer
			w := csv.NewWriter(&b)
			require.NoError(t, w.Write([]string{cell, ""})) // a lone empty cell would be a quoted one
			w.Flush()
			require.Equal(t, b.String(), string(appendCell(nil, cell))+",\n")
		}
	})
}

// lines is a text with the line ends as a reader of CSV has them, and without the marks: in this order, since the
// text may have an apostrophe of its own between the two signs of a line end.
func lines(s string) string {
	return strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), mark, "")
}

// assertPlain holds a cell against what spreadsheets run: a formula at its start, or behind what another
// country's spreadsheet parts cells by.
func assertPlain(t *testing.T, cell string) {
	for _, part := range strings.FieldsFunc(cell, func(r rune) bool { return r == ';' || r == '\t' || r == '\n' || r == '\r' }) {
		first := []rune(part)[0]
		require.NotContains(t, []rune("=+-@＝＋－＠"), first, "%q", cell)
	}
	if cell != "" {
		require.NotContains(t, []byte("\t\r\n"), cell[0], "%q", cell)
	}
}
