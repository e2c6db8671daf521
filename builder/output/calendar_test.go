package output

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/facts"
)

func jobDay(text string) time.Time {
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		panic(err)
	}
	return t
}

var jobStamp = time.Date(2027, 2, 1, 0, 0, 0, 0, time.UTC)

var courtJobs = []facts.Job{
	{ID: "spring-2027/cucumber/sow-indoors", Text: "Sow cucumber indoors, in plugs; or \"net pots\"", Gate: "with the seed at 15.6 to 35 C (60 to 95 F)", From: jobDay("2027-04-06"), To: jobDay("2027-04-12")},
	{ID: "spring-2027/blue-tub/cucumber/plant", Pot: "blue-tub", Text: "Plant out cucumber, root ball whole", From: jobDay("2027-05-04"), To: jobDay("2027-05-10")},
	{ID: "spring-2027/blue-tub/cucumber/note", Text: "One day: C:\\ and\na second line", From: jobDay("2027-12-31"), To: jobDay("2027-12-31")},
	{ID: "frühling/größe", Text: strings.Repeat("Größe ", 30) + strings.Repeat("é", 100) + strings.Repeat("🌱", 40), From: jobDay("2028-02-28"), To: jobDay("2028-02-29")},
}

// contentLines unfolds a calendar: a line break with a blank behind it is none (RFC 5545, section 3.1).
func contentLines(ics []byte) []string {
	text := strings.ReplaceAll(string(ics), "\r\n ", "")
	return strings.Split(strings.TrimSuffix(text, "\r\n"), "\r\n")
}

// assertFormat checks what the outside reader lets pass: line ends, octets, whole letters, dates.
func assertFormat(t require.TestingT, ics []byte) {
	require.True(t, bytes.HasSuffix(ics, []byte("\r\n")))
	for _, line := range strings.Split(strings.TrimSuffix(string(ics), "\r\n"), "\r\n") {
		require.NotContains(t, line, "\n", "a line ends with CR and LF")
		require.NotContains(t, line, "\r")
		require.LessOrEqual(t, len(line), 75, "octets of %q", line)
		require.True(t, utf8.ValidString(line), "a letter is split: %q", line)
		require.NotEmpty(t, line)
	}
	all := contentLines(ics)
	require.Equal(t, []string{"BEGIN:VCALENDAR", "VERSION:2.0"}, all[:2])
	require.Equal(t, "END:VCALENDAR", all[len(all)-1])
	once := map[string]int{}
	for _, line := range all {
		name, value, _ := strings.Cut(line, ":")
		switch {
		case line == "BEGIN:VEVENT":
			once = map[string]int{}
		case line == "END:VEVENT":
			for _, need := range []string{"UID", "DTSTAMP", "DTSTART;VALUE=DATE", "DTEND;VALUE=DATE", "SUMMARY"} {
				require.Equal(t, 1, once[need], need)
			}
		case strings.HasPrefix(name, "DT") && name != "DTSTAMP":
			require.Regexp(t, `^DT(START|END);VALUE=DATE$`, name, "an all-day date says so and has no time zone")
			require.Regexp(t, `^\d{8}$`, value)
			_, err := time.Parse("20060102", value)
			require.NoError(t, err)
		case name == "DTSTAMP":
			require.Regexp(t, `^\d{8}T\d{6}Z$`, value)
		}
		once[name]++
	}
}

func TestCalendar(t *testing.T) {
	got := Calendar(courtJobs, "Tanglewick Court, bench", "https://bench.example/pots/", jobStamp)
	assertFormat(t, got)
	all := contentLines(got)
	for _, want := range []string{
		`NAME:Tanglewick Court\, bench`,
		"UID:spring-2027/blue-tub/cucumber/plant@bench.example",
		"DTSTAMP:20270201T000000Z",
		"DTSTART;VALUE=DATE:20270504", "DTEND;VALUE=DATE:20270511", // the end is the day after the last
		"DTSTART;VALUE=DATE:20271231", "DTEND;VALUE=DATE:20280101",
		"DTSTART;VALUE=DATE:20280228", "DTEND;VALUE=DATE:20280301", // 2028 has a 29 February
		`SUMMARY:Plant out cucumber\, root ball whole (blue tub)`,
		`SUMMARY:Sow cucumber indoors\, in plugs\; or "net pots"`,
		`SUMMARY:One day: C:\\ and\na second line`,
		"DESCRIPTION:with the seed at 15.6 to 35 C (60 to 95 F)",
	} {
		assert.Contains(t, all, want)
	}
	assert.Equal(t, got, Calendar(courtJobs, "Tanglewick Court, bench", "https://bench.example/pots/", jobStamp), "same input, same bytes")
}

// TestEventsKeepTheirID: an event whose days and words changed is the same event; without an address its host
// is the title.
func TestEventsKeepTheirID(t *testing.T) {
	job := courtJobs[1]
	uid := func(j facts.Job, address string) string {
		for _, line := range contentLines(Calendar([]facts.Job{j}, "Tanglewick Court", address, jobStamp)) {
			if strings.HasPrefix(line, "UID:") {
				return line
			}
		}
		return ""
	}
	before := uid(job, "https://bench.example/")
	job.From, job.To, job.Text = job.From.AddDate(0, 0, 9), job.To.AddDate(0, 0, 12), "Plant out cucumbers"
	assert.Equal(t, before, uid(job, "https://bench.example:8443/elsewhere/"))
	assert.Equal(t, "UID:spring-2027/blue-tub/cucumber/plant@tanglewick-court", uid(job, ""))
}

func TestCalendarWithoutJobs(t *testing.T) {
	assertFormat(t, Calendar(nil, "Tanglewick Court", "", jobStamp))
}

// TestAnyTextIsACalendar: whatever stands in a job, the file keeps its form and the words come back.
func TestAnyTextIsACalendar(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := jobStamp.AddDate(0, 0, rapid.IntRange(-4000, 40000).Draw(t, "day"))
		job := facts.Job{
			ID: rapid.StringMatching(`[a-z0-9-]{1,60}(/[a-zäé🌱-]{1,60}){0,2}`).Draw(t, "id"), Text: rapid.String().Draw(t, "text"),
			Gate: rapid.String().Draw(t, "gate"), From: from, To: from.AddDate(0, 0, rapid.IntRange(-3, 60).Draw(t, "days")),
		}
		got := Calendar([]facts.Job{job}, rapid.String().Draw(t, "title"), "", jobStamp)
		assertFormat(t, got)
		want := "SUMMARY:" + strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`).Replace(plainText(job.Text))
		require.Contains(t, contentLines(got), want)
	})
}

// icalendarReader is a program for an outside reader of calendars; it prints the events as JSON.
const icalendarReader = `
import json, sys
from icalendar import Calendar
c = Calendar.from_ical(open(sys.argv[1], "rb").read())
assert not c.errors, c.errors
out = []
for e in c.walk("VEVENT"):
    assert not e.errors, e.errors
    out.append({"uid": str(e["UID"]), "from": e["DTSTART"].dt.isoformat(), "end": e["DTEND"].dt.isoformat(),
        "summary": str(e["SUMMARY"]), "stamp": e["DTSTAMP"].dt.isoformat()})
print(json.dumps(out))
`

// TestOutsideReader has the calendar read by python3-icalendar, which CI installs.
func TestOutsideReader(t *testing.T) {
	const python = "/usr/bin/python3"
	if exec.Command(python, "-c", "import icalendar").Run() != nil {
		t.Skip("python3-icalendar is not installed")
	}
	name := filepath.Join(t.TempDir(), "dates.ics")
	require.NoError(t, os.WriteFile(name, Calendar(courtJobs, "Tanglewick Court", "https://bench.example/", jobStamp), 0o644))
	text, err := exec.Command(python, "-c", icalendarReader, name).Output()
	require.NoError(t, err)
	var events []struct{ UID, From, End, Summary, Stamp string }
	require.NoError(t, json.Unmarshal(text, &events))
	require.Len(t, events, len(courtJobs))
	for i, j := range courtJobs {
		assert.Equal(t, j.ID+"@bench.example", events[i].UID)
		assert.Equal(t, j.From.Format(time.DateOnly), events[i].From)
		assert.Equal(t, j.To.AddDate(0, 0, 1).Format(time.DateOnly), events[i].End)
		assert.Equal(t, summary(j), events[i].Summary)
		assert.Equal(t, "2027-02-01T00:00:00+00:00", events[i].Stamp)
	}
}

// TestFoldsAt75: a line of 75 octets is one, a letter that would stand across the 75th goes to the next line
// whole, at every place.
func TestFoldsAt75(t *testing.T) {
	for n := 50; n < 160; n++ {
		got := Calendar([]facts.Job{{ID: "x", Text: strings.Repeat("a", n) + "é🌱é", From: jobStamp, To: jobStamp}}, "T", "", jobStamp)
		assertFormat(t, got)
		assert.Contains(t, contentLines(got), fmt.Sprintf("SUMMARY:%sé🌱é", strings.Repeat("a", n)))
	}
	line := "SUMMARY:" + strings.Repeat("a", 67)
	got := Calendar([]facts.Job{{ID: "x", Text: strings.Repeat("a", 67), From: jobStamp, To: jobStamp}}, "T", "", jobStamp)
	assert.Contains(t, string(got), "\r\n"+line+"\r\n", "75 octets stand on one line")
}
