package output

import (
	"net/url"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/facts"
)

// Calendar returns the jobs of a season as a calendar file (RFC 5545), one event of whole days each, in the
// order given. The id of an event is that of its job at the host of the handbook's address, or at its title
// where it has no address, so that an event whose days moved stays the same event. stamp is the time that
// every event bears; the same input gives the same bytes.
func Calendar(jobs []facts.Job, title, address string, stamp time.Time) []byte {
	c := ics.NewCalendar()
	c.SetProductId("-//" + plainText(title) + "//trug//EN")
	c.SetName(plainText(title))
	host := hostOf(address, title)
	for _, j := range jobs {
		e := c.AddEvent(j.ID + "@" + host)
		e.SetDtStampTime(stamp)
		from, to := j.From, j.To
		if to.Before(from) {
			to = from // a job without an end is one of a day
		}
		e.SetAllDayStartAt(from)
		e.SetAllDayEndAt(to.AddDate(0, 0, 1)) // the end is the first day after
		e.SetSummary(plainText(summary(j)))
		if j.Gate != "" {
			e.SetDescription(plainText(j.Gate))
		}
		e.SetTimeTransparency(ics.TransparencyTransparent) // nobody is busy for two weeks
	}
	return []byte(c.Serialize(ics.WithNewLineWindows))
}

// summary is the line of an event. Several pots with the same job have an event each, so that it names its pot.
func summary(j facts.Job) string {
	if j.Pot == "" {
		return j.Text
	}
	return j.Text + " (" + strings.ReplaceAll(j.Pot, "-", " ") + ")"
}

// hostOf is what stands behind the @ of ids.
func hostOf(address, title string) string {
	if u, err := url.Parse(address); err == nil && u.Hostname() != "" {
		return u.Hostname()
	}
	return data.Slug(title)
}

// plainText leaves out what no calendar text may hold: control characters other than line ends and tabs
// (RFC 5545, section 3.3.11), and halves of letters.
func plainText(s string) string {
	s = strings.ReplaceAll(s, "\r\n", "\n")
	return strings.Map(func(r rune) rune {
		if r == 0x7f || r < ' ' && r != '\n' && r != '\t' {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, ""))
}
