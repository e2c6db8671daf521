package calcblocks_test

import (
	"strings"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/builder/output"
	"trug/calcblocks/kit/facts"
)

// The files beside the pages are written above this package; these checks ask for the files themselves.
var formatSolvers = []solver{
	{"file-formats", "dtend dtstart", "days first last", func(q question) answers {
		first, end := calendarDay(q, "dtstart"), calendarDay(q, "dtend")
		last := end.AddDate(0, 0, -1)
		written := calendarOf("x", first, last)
		assert.Contains(q.t, written, q.text("dtstart")+"\r\n")
		assert.Contains(q.t, written, q.text("dtend")+"\r\n")
		return answers{
			"first": ofText(first.Format(time.DateOnly)), "last": ofText(last.Format(time.DateOnly)),
			"days": number(end.Sub(first).Hours() / 24),
		}
	}},
	{"file-formats", "date", "dtend_allowed dtend_forbidden dtstart", oneDay},
	{"file-formats", "line", "folded octets", folded},
	{"file-formats", "text", "escaped", func(q question) answers {
		_, after, _ := strings.Cut(calendarOf(q.text("text"), time.Time{}, time.Time{}), "SUMMARY:")
		escaped, _, _ := strings.Cut(after, "\r\n")
		return answers{"escaped": ofText(escaped)}
	}},
	{"file-formats", "line", "ends_with", func(q question) answers {
		_, after, found := strings.Cut(calendarOf("x", time.Time{}, time.Time{}), q.text("line"))
		require.True(q.t, found)
		return answers{"ends_with": ofText(after[:2])}
	}},
	{"file-formats", "element", "required_once", func(q question) answers {
		feed, ok := output.Feed{Title: "T", ID: "https://bench.example/", Entries: []output.FeedEntry{{ID: "a", Title: "E", Updated: time.Unix(0, 0)}}}.Atom()
		require.True(q.t, ok)
		head, _, _ := strings.Cut(string(feed), "<entry>")
		require.Contains(q.t, head, "<"+q.text("element")+" ")
		element := q.c.expect["required_once"].values[q.i]
		if strings.Count(head, "<"+element+">") != 1 {
			return answers{"required_once": ofText("")}
		}
		return answers{"required_once": ofText(element)}
	}},
	{"file-formats", "url", "loc", func(q question) answers {
		files := output.SiteMap("https://example.org/", []output.MapPage{{Address: q.text("url")}})
		require.Len(q.t, files, 1)
		_, after, _ := strings.Cut(string(files[0].Body), "<loc>")
		loc, _, _ := strings.Cut(after, "</loc>")
		return answers{"loc": ofText(loc)}
	}},
}

// calendarOf is a calendar of one job.
func calendarOf(text string, from, to time.Time) string {
	return string(output.Calendar([]facts.Job{{ID: "x", Text: text, From: from, To: to}}, "T", "", time.Unix(0, 0)))
}

// calendarDay reads a date as a calendar writes it.
func calendarDay(q question, name string) time.Time {
	_, day, _ := strings.Cut(q.text(name), ":")
	return sure(time.Parse("20060102", day))
}

func oneDay(q question) answers {
	day := sure(time.Parse(time.DateOnly, q.text("date")))
	written := calendarOf("x", day, day)
	out := answers{"dtstart": ofText(""), "dtend_allowed": ofText(q.c.expect["dtend_allowed"].values[q.i]), "dtend_forbidden": ofText(q.c.expect["dtend_forbidden"].values[0])}
	for _, line := range strings.Split(written, "\r\n") {
		if strings.HasPrefix(line, "DTSTART") {
			out["dtstart"] = ofText(line)
		}
		if strings.HasPrefix(line, "DTEND") {
			assert.Contains(q.t, q.c.expect["dtend_allowed"].values, line)
			assert.NotEqual(q.t, q.c.expect["dtend_forbidden"].values[0], line)
		}
	}
	return out
}

// folded writes a line of as many octets. The name of the property stands for its first letters.
func folded(q question) answers {
	const name = "SUMMARY:"
	line := q.text("line")
	_, after, _ := strings.Cut(calendarOf(line[len(name):], time.Time{}, time.Time{}), name)
	value, _, _ := strings.Cut(strings.ReplaceAll(after, "\r\n ", "\x00"), "\r\n")
	assert.Equal(q.t, line[len(name):], strings.ReplaceAll(value, "\x00", ""), "unfolding gives the line back")
	return answers{"octets": number(float64(len(line))), "folded": ofText(line[:len(name)] + strings.ReplaceAll(value, "\x00", "\r\n "))}
}
