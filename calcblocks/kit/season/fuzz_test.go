package season_test

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/season"
)

// FuzzMinima reads any text as a table of daily minima. Each fault has a code, a hint and a place inside the
// text; the days stand in order, within what air can have; and the days written by another program's CSV
// (encoding/csv) are the same days when they are read again.
func FuzzMinima(f *testing.F) {
	for _, s := range []string{
		"date,tmin_c\n2026-04-20,-1.5\n", "# remark\ndate,tmax_f,tmin_f\n2026-01-01,40,30\n2026-01-02,,\n", "date;tmin_c\n2026-04-20;-1,5\n",
		"\ufeffdate,tmin_c\r\n2026-04-20,\"-1.5\"\r\n", "date,tmin_c,tmax_c\n2026-04-21,5,1\n2026-04-20,1,2\n2026-04-20,1,2\n",
		"DATE, TMIN_C , place\n2026-02-30,1,a\n 2026-02-28 , 1 ,b\n2026-03-01,1e3,c\n2026-03-02,99,d\n", "", "\n\n", "date\n", "date,tmin_c\n0000-01-01,0\n9999-12-31,0\n",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if !utf8.ValidString(text) {
			return // refused before
		}
		record, told := readMinima(text)
		assertMinimaPlaces(t, text, told)
		if record == nil {
			require.NotEmpty(t, told)
			return
		}
		assertDaysInOrder(t, record)
		again, told := readMinima(rewritten(record))
		require.Empty(t, told)
		require.Equal(t, bare(record.Days), bare(again.Days))
		require.Equal(t, record.Fahrenheit, again.Fahrenheit)
	})
}

func readMinima(text string) (*season.Record, []diag.Diagnostic) {
	var l diag.List
	r := season.Read(diag.NewFile("frost.csv", text), l.Report)
	return r, l.Sorted()
}

func assertMinimaPlaces(t *testing.T, text string, told []diag.Diagnostic) {
	lines := strings.Split(diag.NewFile("", text).Text, "\n")
	require.LessOrEqual(t, len(told), 21, "the first faults are enough")
	for _, d := range told {
		require.NotEmpty(t, d.Code)
		require.NotEmpty(t, d.Hints, d.Message)
		if d.At.Line == 0 {
			continue // the whole file
		}
		require.LessOrEqual(t, d.At.Line, len(lines), d.Message)
		require.GreaterOrEqual(t, d.At.Column, 1, d.Message)
		require.LessOrEqual(t, d.At.Column, utf8.RuneCountInString(lines[d.At.Line-1])+1, d.Message)
	}
}

func assertDaysInOrder(t *testing.T, r *season.Record) {
	require.True(t, slices.IsSortedFunc(r.Days, func(a, b season.Day) int { return a.Date.Compare(b.Date) }))
	for i, d := range r.Days {
		require.False(t, i > 0 && d.Date.Equal(r.Days[i-1].Date), "%s stands there twice", d.Date)
		for _, x := range []float64{d.Min, d.Max} {
			require.GreaterOrEqual(t, x, min(0, r.Threshold(-90)))
			require.LessOrEqual(t, x, r.Threshold(60))
		}
		require.False(t, d.HasMin && d.HasMax && d.Max < d.Min)
	}
}

// rewritten writes a record as another program does.
func rewritten(r *season.Record) string {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	unit := map[bool]string{false: "c", true: "f"}[r.Fahrenheit]
	_ = w.Write([]string{"date", "tmin_" + unit, "tmax_" + unit}) // a buffer never fails
	cell := func(x float64, has bool) string {
		if !has {
			return ""
		}
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	for _, d := range r.Days {
		_ = w.Write([]string{d.Date.Format(time.DateOnly), cell(d.Min, d.HasMin), cell(d.Max, d.HasMax)})
	}
	w.Flush()
	return b.String()
}

// bare is days without their lines.
func bare(days []season.Day) []season.Day {
	out := slices.Clone(days)
	for i := range out {
		out[i].Line = 0
	}
	return out
}
