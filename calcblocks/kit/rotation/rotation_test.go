package rotation_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/rotation"
	"trug/calcblocks/kit/units"
)

var (
	lib  = reference.Default()
	file = diag.NewFile("content/diary.md", "")

	north, south = units.GrowingYear{}, units.GrowingYear{South: true}
)

// story builds events, one a line of the file: "2026-05-10 tub planted tomato".
type story struct{ events []facts.Event }

func (s *story) add(day, pot, did, crop string) *facts.Event {
	on, err := units.ReadDate(day)
	if err != nil {
		panic(err)
	}
	s.events = append(s.events, facts.Event{At: diag.Position{File: file, Line: len(s.events) + 1, Column: 1}, On: on, Pot: pot, Did: did, Crop: crop})
	return &s.events[len(s.events)-1]
}

func share(x float64) units.SomeShare { return units.SomeShare{Low: x, Typical: x, High: x} }

// told prints conflicts as "pot crop year after last: wait".
func told(conflicts []facts.Conflict) []string {
	out := []string{}
	for _, c := range conflicts {
		wait := fmt.Sprint(c.Wait)
		if c.Never {
			wait = "never"
		}
		out = append(out, fmt.Sprintf("%s %s %d after %d: %s", c.Pot, c.Crop, c.Year, c.LastYear, wait))
	}
	return out
}

func conflicts(s story) []string { return told(rotation.Conflicts(lib, north, s.events, nil)) }

// TestFamilyReturns: nightshades rest 3 years, so pepper in the first and the second year after tomato comes too
// soon, and in the third it is allowed at the limit.
func TestFamilyReturns(t *testing.T) {
	for year, want := range map[string][]string{
		"2027": {"tub pepper 2027 after 2026: 2"}, "2028": {"tub pepper 2028 after 2026: 1"}, "2029": {}, "2030": {},
	} {
		var s story
		s.add("2026-05-10", "tub", "planted", "tomato")
		s.add(year+"-05-10", "tub", "sown", "pepper")
		assert.Equal(t, want, conflicts(s), year)
	}
	var s story
	s.add("2026-05-10", "tub", "planted", "tomato")
	s.add("2027-05-10", "tub", "planted", "lettuce")
	s.add("2027-05-10", "pail", "planted", "pepper")
	assert.Empty(t, conflicts(s), "another family, or another pot")
}

// TestOneSeason: sowings of one year are one season; a crop over winter stays until it is harvested.
func TestOneSeason(t *testing.T) {
	var s story
	s.add("2026-04-01", "tub", "sown", "lettuce")
	s.add("2026-06-01", "tub", "sown", "lettuce")
	assert.Empty(t, conflicts(s))
	var winter story
	winter.add("2026-10-10", "tub", "planted", "garlic")
	winter.add("2027-07-10", "tub", "harvested", "garlic")
	winter.add("2027-10-10", "tub", "planted", "garlic")
	winter.add("2030-04-10", "tub", "sown", "onion")
	winter.add("2034-04-10", "tub", "sown", "onion")
	assert.Equal(t, []string{"tub garlic 2027 after 2027: 3"}, conflicts(winter), "onion family, 3 years after 2027")
}

// TestBothOfAYear: two crops of a family in one year both come after the one of the year before.
func TestBothOfAYear(t *testing.T) {
	var s story
	s.add("2026-05-10", "tub", "planted", "tomato")
	s.add("2027-05-10", "tub", "planted", "pepper")
	s.add("2027-05-10", "tub", "planted", "eggplant")
	assert.Equal(t, []string{"tub pepper 2027 after 2026: 2", "tub eggplant 2027 after 2026: 2"}, conflicts(s))
}

// TestNewMix: a mix that was replaced whole begins anew, one that was replaced in part does not.
func TestNewMix(t *testing.T) {
	for _, c := range []struct {
		fresh float64
		want  int
	}{{1, 0}, {0.5, 1}, {0, 1}} {
		var s story
		s.add("2026-05-10", "tub", "planted", "tomato")
		s.add("2027-04-10", "tub", "renewed", "").Fresh = share(c.fresh)
		s.add("2027-05-10", "tub", "planted", "tomato")
		assert.Len(t, conflicts(s), c.want, "%v", c.fresh)
	}
}

// TestMovedMix: old mix takes its story along, also over two pots; moved at one time, the mix of the pot in
// the middle is what it was before.
func TestMovedMix(t *testing.T) {
	var s story
	s.add("2026-05-10", "a", "planted", "tomato")
	s.add("2026-05-10", "b", "planted", "cabbage")
	s.add("2027-05-10", "b", "planted", "pepper")
	s.add("2027-05-10", "c", "planted", "kale")
	s.add("2027-05-11", "c", "planted", "potato")
	plan := []facts.Planting{{Plan: "p", Season: 2027, Pot: "a"}}
	at := diag.Position{File: file, Line: 99}
	moves := []facts.Move{{Plan: "p", From: "a", To: "b", At: at}, {Plan: "p", From: "b", To: "c", At: at}, {Plan: "p", From: "c", To: "heap"}}
	found := rotation.Conflicts(lib, north, s.events, plan, moves...)
	assert.Equal(t, []string{"b pepper 2027 after 2026: 2", "c kale 2027 after 2026: 2"}, told(found))
	assert.Equal(t, 1, found[0].Before.Line, "the place is where the crop grew")
	assert.Contains(t, found[0].Text, `"a" in 2026, and old mix from there is in this pot`)
	later := []facts.Move{{From: "a", To: "b", On: day("2027-04-01")}, {From: "b", To: "c", On: day("2027-04-02")}}
	assert.Equal(t, []string{"b pepper 2027 after 2026: 2", "c kale 2027 after 2026: 2", "c potato 2027 after 2026: 2"}, told(rotation.Conflicts(lib, north, s.events, nil, later...)))
}

func day(text string) time.Time {
	on, err := units.ReadDate(text)
	if err != nil {
		panic(err)
	}
	return on
}

// TestPlans: a plan is judged against the diary and against earlier plans of which the diary tells nothing; what
// the diary tells beside a plan counts instead of it, and is not told twice.
func TestPlans(t *testing.T) {
	var s story
	s.add("2026-05-10", "tub", "planted", "tomato")
	planted := func(plan string, season int, crop string) facts.Planting {
		return facts.Planting{Plan: plan, Season: season, Pot: "tub", Crop: crop, At: diag.Position{File: file, Line: season}}
	}
	a, b := planted("a", 2027, "pepper"), planted("b", 2028, "potato")
	assert.Equal(t, []string{"tub pepper 2027 after 2026: 2"}, told(rotation.Conflicts(lib, north, s.events, []facts.Planting{a})))
	both := rotation.Conflicts(lib, north, s.events, []facts.Planting{b, a})
	assert.Equal(t, []string{"tub pepper 2027 after 2026: 2", "tub potato 2028 after 2027: 2"}, told(both))
	assert.Equal(t, "a", both[0].Plan)
	assert.Equal(t, 2027, both[1].Before.Line)

	s.add("2027-05-10", "tub", "planted", "bush-bean")
	assert.Equal(t, []string{"tub pepper 2027 after 2026: 2", "tub potato 2028 after 2026: 1"}, told(rotation.Conflicts(lib, north, s.events, []facts.Planting{a, b})), "beans grew in 2027")
	s.events[1].Crop = "pepper"
	assert.Equal(t, []string{"tub pepper 2027 after 2026: 2"}, told(rotation.Conflicts(lib, north, s.events, []facts.Planting{a})), "the plan and its planting are one")
}

// TestUnfit: after a disease that lasts any crop is refused, whatever its family and the year; not the crop on
// which it was found, nor one after all of the mix is new.
func TestUnfit(t *testing.T) {
	var s story
	s.add("2026-05-10", "tub", "planted", "eggplant")
	found := s.add("2026-08-10", "tub", "noted", "eggplant")
	found.Disease, found.Unfit = "Verticillium wilt", "Verticillium wilt"
	s.add("2032-05-10", "tub", "planted", "lettuce")
	s.add("2033-05-10", "tub", "planted", "strawberry")
	s.add("2034-04-10", "tub", "renewed", "").Fresh = share(1)
	s.add("2034-05-10", "tub", "planted", "strawberry")
	got := rotation.Conflicts(lib, north, s.events, nil)
	assert.Equal(t, []string{"tub lettuce 2032 after 2026: never", "tub strawberry 2033 after 2026: never"}, told(got))
	assert.Equal(t, []string{"landgrant-soilborne"}, got[0].Sources)
	assert.Equal(t, 2, got[0].Before.Line)
}

// TestAfterDisease holds the rests to families.yaml: the longest of what is published, and none for a family that
// no source names as a host.
func TestAfterDisease(t *testing.T) {
	for _, c := range []struct {
		crop, disease string
		years         float64 // 0 = not known, -1 = never
	}{
		{"cabbage", "clubroot", 7},
		{"turnip", "clubroot", 7},
		{"lettuce", "clubroot", 0},
		{"kale", "black rot", 3},
		{"kale", "blackleg", 4},
		{"eggplant", "Verticillium wilt", 4},
		{"tomato", "Verticillium", 4},
		{"strawberry", "Verticillium wilt", 4},
		{"cucumber", "Verticillium wilt", 0},
		{"cucumber", "cucumber scab", 2},
		{"onion", "white rot", 20},
		{"bush-bean", "anthracnose", 2},
		{"bush-bean", "Fusarium root rot", 3},
		{"basil", "Fusarium wilt of basil", -1},
		{"sweet-corn", "yellow leaf blight", 3},
		{"nothing", "clubroot", 0},
	} {
		r := rotation.AfterDisease(rotation.FamilyOf(lib, c.crop), c.disease)
		assert.Equal(t, c.years != 0, r.Known, "%s after %s", c.crop, c.disease)
		if assert.Equal(t, c.years < 0, r.Never, "%s after %s", c.crop, c.disease); !r.Never {
			assert.Equal(t, c.years, r.Years, "%s after %s", c.crop, c.disease)
		}
		if r.Known {
			assert.NotEmpty(t, r.Sources)
		}
	}
}

// TestDiseaseOutlastsFamily: blackleg asks for 4 years where the family asks for 3; scab with its 2 shortens nothing.
func TestDiseaseOutlastsFamily(t *testing.T) {
	for _, c := range []struct {
		crop, disease, year string
		want                []string
	}{
		{"cabbage", "blackleg", "2029", []string{"tub cabbage 2029 after 2026: 1"}},
		{"cabbage", "blackleg", "2030", []string{}},
		{"cucumber", "cucumber scab", "2028", []string{"tub cucumber 2028 after 2026: 1"}},
		{"cucumber", "cucumber scab", "2029", []string{}},
	} {
		var s story
		s.add("2026-05-10", "tub", "planted", c.crop)
		s.add("2026-08-10", "tub", "noted", c.crop).Disease = c.disease
		s.add(c.year+"-05-10", "tub", "planted", c.crop)
		assert.Equal(t, c.want, conflicts(s), "%s %s", c.disease, c.year)
	}
}

// TestEveryFamily walks all families: a return a year too soon waits one year, at the interval it does not; a
// family without an interval is not flagged.
func TestEveryFamily(t *testing.T) {
	for _, f := range lib.Families {
		crop := f.Members[0]
		interval := 3
		if f.Interval.Known {
			interval = int(f.Interval.Typical)
		}
		for _, since := range []int{interval - 1, interval} {
			var s story
			s.add("2020-05-10", "tub", "planted", crop)
			s.add(fmt.Sprintf("%d-05-10", 2020+since), "tub", "planted", f.Members[len(f.Members)-1])
			got := rotation.Conflicts(lib, north, s.events, nil)
			if since == interval || !f.Interval.Known {
				assert.Empty(t, got, f.ID)
				continue
			}
			require.Len(t, got, 1, f.ID)
			assert.Equal(t, 1, got[0].Wait, f.ID)
			assert.Equal(t, f.ID, got[0].Family)
			assert.NotEmpty(t, got[0].Sources, f.ID)
		}
	}
}

// TestFindings: names are found in notes, whatever their case, number and hyphens, but not where the note denies
// them or where they are another family's.
func TestFindings(t *testing.T) {
	f := rotation.FindingsOf(lib)
	for _, c := range []struct{ note, family, want string }{
		{"Verticillium wilt on one plant", "solanaceae", "Verticillium wilt"},
		{"looks like verticillium", "solanaceae", "Verticillium wilt"},
		{"Root knot nematode!", "apiaceae", "root-knot nematodes"},
		{"root-knot nematodes", "asteraceae", "root-knot nematodes"},
		{"clubroot, bad", "", "clubroot"},
		{"clubroot", "brassicaceae", "clubroot"},
		{"black rot", "solanaceae", ""},
		{"black rot on the ribs", "brassicaceae", "black rot"},
		{"damping-off", "amaranthaceae", "damping-off"},
		{"ralstonia", "solanaceae", "bacterial wilt"},
		{"no clubroot this year", "brassicaceae", ""},
		{"free of any Fusarium", "solanaceae", ""},
		{"a Fusarium resistant variety", "solanaceae", ""},
		{"not much fruit. Phytophthora", "solanaceae", "Phytophthora"},
		{"Phytophthora capsici", "cucurbitaceae", "Phytophthora capsici"},
		{"leaves dropped, a drop of rain", "asteraceae", ""},
		{"", "solanaceae", ""},
	} {
		got, ok := f.In(c.note, c.family)
		assert.Equal(t, c.want, got.Name, c.note)
		assert.Equal(t, c.want != "", ok, c.note)
		if ok {
			assert.True(t, got.Unfit, c.note)
		}
	}
	scab, ok := f.In("cucumber scab", "cucurbitaceae")
	assert.True(t, ok)
	assert.False(t, scab.Unfit)
}

// TestEveryFindingIsFound: each name of families.yaml that makes a mix unfit is recognised for its family.
func TestEveryFindingIsFound(t *testing.T) {
	f := rotation.FindingsOf(lib)
	for _, family := range lib.Families {
		for _, text := range family.Discard {
			got, ok := f.In(text, family.ID)
			assert.True(t, ok && got.Unfit, "%s: %s", family.ID, text)
		}
	}
	assert.NotEmpty(t, f.Names())
}

func TestResting(t *testing.T) {
	var s story
	s.add("2026-05-10", "tub", "planted", "tomato")
	s.add("2027-05-10", "tub", "planted", "okra")
	s.add("2028-05-10", "tub", "planted", "cabbage")
	s.add("2028-06-10", "tub", "noted", "cabbage").Disease = "blackleg"
	rests := rotation.Follow(lib, north, s.events, nil).Resting("tub")
	require.Len(t, rests, 4)
	want := []struct {
		crop string
		free int
		ok   bool
	}{{"cabbage", 2031, true}, {"okra", 0, false}, {"tomato", 2029, true}, {"", 2032, true}}
	for i, w := range want {
		free, ok := rests[i].FreeIn()
		assert.Equal(t, w.crop, rests[i].Crop)
		assert.Equal(t, w.ok, ok, w.crop)
		if ok {
			assert.Equal(t, w.free, free, w.crop)
		}
	}
	assert.Empty(t, rotation.Follow(lib, north, nil, nil).Resting("tub"))
}

func TestDoubt(t *testing.T) {
	var s story
	s.add("2026-05-10", "tub", "planted", "tomato")
	s.add("2027-05-10", "tub", "planted", "pepper")
	d := rotation.Doubt(north, rotation.Conflicts(lib, north, s.events, nil)[0])
	assert.Equal(t, diag.Doubt, d.Severity)
	assert.Equal(t, `"pepper" comes back to "tub" too soon`, d.Message)
	assert.Equal(t, 2, d.At.Line)
	require.Len(t, d.Related, 1)
	assert.Equal(t, 1, d.Related[0].At.Line)
	assert.Contains(t, d.Hints[0], "wait until 2029")
}

// TestSouthIsHalfAYearLater: a story that is told half a year later south of the equator has the same conflicts.
func TestSouthIsHalfAYearLater(t *testing.T) {
	crops := []string{"tomato", "pepper", "kale", "radish", "pea"}
	rapid.Check(t, func(t *rapid.T) {
		var here, there story
		var plans [2][]facts.Planting
		for range rapid.IntRange(1, 12).Draw(t, "lines") {
			day := time.Date(rapid.IntRange(2020, 2026).Draw(t, "year"), time.Month(rapid.IntRange(1, 12).Draw(t, "month")), rapid.IntRange(1, 28).Draw(t, "day"), 0, 0, 0, 0, time.UTC)
			pot, crop := rapid.SampledFrom([]string{"tub", "box"}).Draw(t, "pot"), rapid.SampledFrom(crops).Draw(t, "crop")
			did := rapid.SampledFrom([]string{"planted", "sown", "harvested", "renewed"}).Draw(t, "did")
			here.add(day.Format(time.DateOnly), pot, did, crop)
			there.add(day.AddDate(0, 6, 0).Format(time.DateOnly), pot, did, crop)
		}
		p := facts.Planting{Plan: "next", Season: rapid.IntRange(2024, 2028).Draw(t, "season"), Pot: "tub", Crop: rapid.SampledFrom(crops).Draw(t, "planned")}
		plans[0], plans[1] = []facts.Planting{p}, []facts.Planting{p}
		move := facts.Move{Plan: "next", From: "box", To: "tub"}
		assert.Equal(t, told(rotation.Conflicts(lib, north, here.events, plans[0], move)), told(rotation.Conflicts(lib, south, there.events, plans[1], move)))
	})
}

// TestSouthCountsSeasons: a tomato from October to February rests the mix for three seasons, to the October of the third.
func TestSouthCountsSeasons(t *testing.T) {
	for day, want := range map[string][]string{"2027-10-01": {"tub pepper 2027 after 2025: 1"}, "2028-10-01": {}} {
		var s story
		s.add("2025-10-10", "tub", "planted", "tomato")
		s.add("2026-02-20", "tub", "harvested", "tomato")
		s.add(day, "tub", "planted", "pepper")
		found := rotation.Conflicts(lib, south, s.events, nil)
		assert.Equal(t, want, told(found))
		for _, c := range found {
			assert.Contains(t, c.Text, "Tomato grew in this pot in 2025/26")
			assert.Contains(t, c.Text, "wait until 2028/29")
		}
	}
}
