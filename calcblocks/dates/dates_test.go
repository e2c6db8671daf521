package dates_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/dates"
	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/facts"
)

func TestCases(t *testing.T) { blocktest.Run(t, dates.Kind, planKind) }

// minima is a file of years with a last frost on 20 April, moved by as many days as the year is after the
// middle one, and a first frost on 15 October, moved against it. Other days have 5 and 15 C. Days between
// from and to are left out.
func minima(years int, from, to string) string {
	var b strings.Builder
	b.WriteString("date,tmin_c,tmax_c\n")
	for i := range years {
		year, off := 2001+i, i-years/2
		spring := time.Date(year, 4, 20+off, 0, 0, 0, 0, time.UTC)
		autumn := time.Date(year, 10, 15-off, 0, 0, 0, 0, time.UTC)
		for d := time.Date(year, 1, 1, 0, 0, 0, 0, time.UTC); d.Year() == year; d = d.AddDate(0, 0, 1) {
			text := d.Format(time.DateOnly)
			low := 5.0
			if d.Equal(spring) || d.Equal(autumn) {
				low = 0
			}
			if d.Month() >= 6 && d.Month() <= 8 {
				low = 8 // summer, so that the record is of the north
			}
			if text < from || text > to {
				fmt.Fprintf(&b, "%s,%g,15\n", text, low)
			}
		}
	}
	return b.String()
}

func compute(files map[string]string, body string) blocktest.Output {
	return blocktest.Compute(dates.Kind, blocktest.Input{ID: "court", Files: files, Body: body}, planKind)
}

// TestFrostFromMinima: 21 years, the last frost on 20 April and up to 10 days to either side: mean day 110,
// standard deviation sqrt(77 x 10 / 20) = 6.2048 (the squares of -10 to 10 sum to 770), 10 % at 110 + 1.28155 x
// 6.2048 = 117.95, so 28 April, 90 % at 102.05, 12 April. In autumn 15 October is day 288: 10 % at 280.05, 7 October.
func TestFrostFromMinima(t *testing.T) {
	out := compute(map[string]string{"frost.csv": minima(21, "a", "")}, "season: 2027\nminima: frost.csv\ncrops: [bush-bean]\n")
	require.Empty(t, out.Printed())
	assert.InDelta(t, 110, out.Number("frost/mean_day"), 1e-9)
	assert.InDelta(t, 6.2048, out.Number("frost/sd_days"), 1e-3)
	assert.Equal(t, 21.0, out.Number("frost/years"))
	for path, want := range map[string]string{
		"frost/p10": "04-28", "frost/p50": "04-20", "frost/p90": "04-12", "frost/counted_from": "04-20",
		"autumn_frost/p10": "10-07", "autumn_frost/p50": "10-15", "autumn_frost/p90": "10-23",
		// By order the k-th of 21 stands at k/22: 0.9 x 22 = 19.8, between 29 April less one and 29 April.
		"frost/by_order/p10": "04-29", "frost/by_order/p50": "04-20", "autumn_frost/by_order/p10": "10-06",
	} {
		assert.Equal(t, data.Text(want), out.Find(path), path)
	}
	assert.Equal(t, []string{"late-frost"}, slices.DeleteFunc(out.Cautions(""), func(id string) bool {
		return id != "late-frost" && id != "short-season"
	}), "beans go out before 28 April")
	assert.Contains(t, strings.Join(strings.Fields(out.Text()), " "), "29 April Last frost of spring, average 20 April half of all years have a frost after it")
	assert.Contains(t, out.WorkingText(), "110 + 1.282 x 6.205 = day 118, 28 April")
}

// TestDegreeDays: 20 April to 15 October are 179 days, 92 of them of June to August: those bring (8 + 15) / 2 -
// 4.444 C days, the others 10 - 4.444, and a day of frost 7.5 - 4.444. The two frosts of a year lie within the
// season in 11 of the 21 years.
func TestDegreeDays(t *testing.T) {
	out := compute(map[string]string{"frost.csv": minima(21, "a", "")}, "season: 2027\nminima: frost.csv\ncrops: [bush-bean]\n")
	const base = 40.0 / 9
	least := 85*(10-base) + 92*(11.5-base) + 2*(7.5-base)
	most := 87*(10-base) + 92*(11.5-base)
	assert.InDelta(t, least, out.Number("degree_days/1/least_c_days"), 1e-6)
	assert.InDelta(t, most, out.Number("degree_days/1/most_c_days"), 1e-6)
	assert.InDelta(t, (11*least+10*most)/21, out.Number("degree_days/1/mean_c_days"), 1e-6)
	assert.InDelta(t, 179*2.5, out.Number("degree_days/2/mean_c_days"), 1e-6, "15 C on a base of 10, the night clamped to it")
	assert.Equal(t, 21.0, out.Number("degree_days/2/years"))
}

// TestManyGaps: the first three places without minima are told one by one, the others in one line.
func TestManyGaps(t *testing.T) {
	whole := minima(21, "a", "")
	for days, want := range map[int]string{3: "", 4: "from here on 1 day is missing in 1 place more", 9: "from here on 6 days are missing in 6 places more"} {
		holed := whole
		for n := range days {
			day := fmt.Sprintf("2009-01-%02d", 2*n+3)
			holed = regexp.MustCompile("(?m)^"+day+".*\n").ReplaceAllString(holed, "")
		}
		out := compute(map[string]string{"frost.csv": holed}, "season: 2027\nminima: frost.csv\ncrops: [radish]\n")
		assert.Equal(t, min(days, 4), strings.Count(out.Printed(), "doubt: "), out.Printed())
		assert.Contains(t, out.Printed(), want)
	}
}

// TestRenewedLate: a day of the grower's own that leaves less than a week before the pot is used is told, one that leaves
// it is not. From 20 April a pepper is planted from 4 May.
func TestRenewedLate(t *testing.T) {
	for days, late := range map[int]bool{6: true, 7: false} {
		out := compute(map[string]string{"handbook.yaml": "frost: {spring: \"04-20\", autumn: \"10-15\"}\n"},
			fmt.Sprintf("season: 2027\ncrops: {pepper: {renew: %d days before planting}}\n", days))
		require.Empty(t, out.Printed())
		assert.Equal(t, late, slices.Contains(out.Cautions(""), "renewed-late"), "%d days", days)
	}
}

// TestFewYears: 12 years carry the average only, 9 none; the handbook's date then stands in.
func TestFewYears(t *testing.T) {
	twelve := compute(map[string]string{"frost.csv": minima(12, "a", "")}, "season: 2027\nminima: frost.csv\ncrops: [radish]\n")
	require.Empty(t, twelve.Printed())
	assert.Equal(t, data.Null{}, twelve.Find("frost/p10"))
	assert.IsType(t, data.Text(""), twelve.Find("frost/p50"))
	assert.Contains(t, twelve.Text(), "12 years are too few: it takes 20")
	nine := map[string]string{"frost.csv": minima(9, "a", "")}
	out := compute(nine, "season: 2027\nminima: frost.csv\ncrops: [radish]\n")
	assert.Equal(t, data.Null{}, out.Find("frost/p50"))
	assert.Equal(t, data.List{}, out.Find("jobs"))
	assert.Contains(t, out.Printed(), "doubt: 9 years of minima are too few for an average last frost")
	nine["handbook.yaml"] = "frost: {spring: \"04-01\"}\n"
	out = compute(nine, "season: 2027\nminima: frost.csv\ncrops: [radish]\n")
	assert.Empty(t, out.Printed())
	assert.Equal(t, data.Text("04-01"), out.Find("frost/counted_from"))
	assert.Equal(t, data.Text("2027-03-04"), out.Find("jobs/2/from"), "4 weeks before 1 April")
}

// TestWhichDateCounts: the block's dates beat its minima, those beat the handbook's dates, those its minima.
func TestWhichDateCounts(t *testing.T) {
	files := map[string]string{"frost.csv": minima(21, "a", ""), "handbook.yaml": "frost: {spring: \"05-01\", minima: frost.csv}\n"}
	for body, want := range map[string]string{
		"":                             "05-01",
		"minima: frost.csv\n":          "04-20",
		"frost: {spring: \"05-09\"}\n": "05-09",
		"frost: {spring: \"05-09\", minima: frost.csv}\n": "05-09",
	} {
		out := compute(files, "season: 2027\ncrops: [radish]\n"+body)
		require.Empty(t, out.Printed())
		assert.Equal(t, data.Text(want), out.Find("frost/counted_from"), body)
		assert.Equal(t, data.Text("04-28"), out.Find("frost/p10"), "what the minima tell stands beside it")
	}
}

// TestGap: the missing days are named, and the year that they cost.
func TestGap(t *testing.T) {
	out := compute(map[string]string{"frost.csv": minima(21, "2009-04-21", "2009-04-27")}, "season: 2027\nminima: frost.csv\ncrops: [radish]\n")
	assert.Contains(t, out.Printed(), "content/frost.csv:3034:1: doubt: 7 days are missing before this one, 2009-04-21 to 2009-04-27\n")
	assert.Contains(t, out.Printed(), "content/frost.csv:3034:1: doubt: spring 2009 is left out: 7 of the 40 days around the average frost are missing\n")
	assert.Equal(t, 20.0, out.Number("frost/years"))
	assert.Equal(t, 21.0, out.Number("autumn_frost/years"))
	assert.Contains(t, strings.Join(strings.Fields(out.Text()), " "), "2001 to 2021; 1 left out for missing days")
	few := compute(map[string]string{"frost.csv": minima(21, "2009-04-21", "2009-04-21")}, "season: 2027\nminima: frost.csv\ncrops: [radish]\n")
	assert.Contains(t, few.Printed(), "1 day is missing before this one, 2009-04-21\n")
	assert.Equal(t, 21.0, few.Number("frost/years"))
}

// TestOffset: pots 6 C colder than the station see frost on every day of 5 C; pots 1 C warmer see none at 0 C.
func TestOffset(t *testing.T) {
	files := map[string]string{"frost.csv": minima(21, "a", "")}
	warm := compute(files, "season: 2027\nminima: frost.csv\noffset: 1 C\ncrops: [radish]\n")
	assert.Equal(t, 0.0, warm.Number("frost/years_with_frost"))
	assert.Contains(t, warm.Text(), "The pots are taken to be 1 C warmer than the station.")
	cold := compute(files, "season: 2027\nminima: frost.csv\noffset: -9 F\ncrops: [radish]\n")
	assert.Equal(t, data.Text("05-31"), cold.Find("frost/p50"), "5 C at the station is frost where it is 5 C colder")
}

func jobs(out blocktest.Output) map[string]facts.Job {
	all := map[string]facts.Job{}
	for _, f := range out.Facts {
		if j, ok := f.(facts.Job); ok {
			all[j.ID] = j
		}
	}
	return all
}

// TestIDsStay: a change of the frost dates or of a day of one's own moves jobs and renames none.
func TestIDsStay(t *testing.T) {
	plan := map[string]string{"plan spring-2027.yaml": "tub-1: {crop: pepper}\ntub-2: {crop: pepper}\n", "pots.yaml": "tub-1: {holds: 20 L}\ntub-2: {holds: 20 L}\n"}
	first := jobs(compute(plan, "plan: spring-2027\nfrost: {spring: \"04-20\", autumn: \"10-15\"}\n"))
	second := jobs(compute(plan, "plan: spring-2027\nfrost: {spring: \"05-09\", autumn: \"10-30\"}\ncrops:\n  pepper: {plant: 2027-06-01}\n"))
	require.Len(t, first, 2*5+3, "five jobs in each pot, three for the seedlings of both")
	require.Len(t, second, len(first))
	for id, j := range first {
		moved, ok := second[id]
		require.True(t, ok, id)
		assert.NotEqual(t, j.From, moved.From, id)
		assert.Equal(t, j.Pot, moved.Pot)
	}
	planted := first["spring-2027/tub-1/pepper/plant"]
	assert.Equal(t, "tub-1", planted.Pot)
	assert.Equal(t, "plan spring-2027.yaml", planted.At.Name())
	assert.Contains(t, first, "spring-2027/pepper/sow-indoors")
}

// TestSeasonOfAnID: without a plan the id names block and season, so that next year's jobs are others; without
// any year nothing is told to the calendar.
func TestSeasonOfAnID(t *testing.T) {
	body := "frost: {spring: \"04-20\"}\ncrops: [radish]\n"
	assert.Contains(t, jobs(compute(nil, "season: 2027\n"+body)), "court/2027/radish/sow")
	assert.Empty(t, jobs(compute(nil, body)))
	newest := map[string]string{"plan spring-2027.yaml": "tub-1: {crop: pepper}\n"}
	assert.Contains(t, jobs(compute(newest, body)), "court/2027/radish/sow", "the newest plan of the handbook tells the year")
	nameless := blocktest.Compute(dates.Kind, blocktest.Input{Body: "season: 2027\n" + body})
	assert.Contains(t, jobs(nameless), "dates/2027/radish/sow")
}

// TestKeys: the keys that others rely on.
func TestKeys(t *testing.T) {
	out := compute(nil, "season: 2027\nfrost: {spring: \"04-20\"}\ncrops: [tomato]\n")
	for _, key := range []string{"id", "kind", "title", "stamp", "jobs", "frost", "cautions", "sources"} {
		assert.NotNil(t, out.Data.Get(key), key)
	}
	for _, key := range []string{"years", "mean_day", "sd_days", "p90", "p50", "p10"} {
		assert.NotNil(t, out.Find("frost/"+key), key)
	}
	for _, key := range []string{"job", "crop", "pot", "from", "to"} {
		assert.NotNil(t, out.Find("jobs/1/"+key), key)
	}
	assert.Equal(t, data.Null{}, out.Find("autumn_frost/p50"), "not known is null")
}

// TestEveryNumberHasASource: each line of the working of dates that count from a frost names one.
func TestEveryNumberHasASource(t *testing.T) {
	out := compute(map[string]string{"frost.csv": minima(21, "a", "")}, "season: 2027\nminima: frost.csv\ncrops: [tomato, cucumber, bush-bean, kale]\n")
	keys := map[string]bool{}
	for _, e := range out.Sources {
		keys[e.Key] = true
	}
	for _, step := range out.Working {
		assert.NotEmpty(t, step.Sources, step.What)
		for _, key := range step.Sources {
			assert.True(t, keys[key], "%s: %s is in the bibliography", step.What, key)
		}
	}
	assert.True(t, keys["own-minima"])
}
