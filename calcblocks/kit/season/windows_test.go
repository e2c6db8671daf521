package season_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/season"
	"trug/calcblocks/kit/units"
)

var lib = reference.Default()

// court is the season of a last frost on 20 April 2027 and a first one on 15 October.
var court = season.Of(2027, units.MonthDay{Month: 4, Day: 20}, units.MonthDay{Month: 10, Day: 15}, true)

func cropOf(t require.TestingT, id string) *reference.Crop {
	c, ok := lib.Crop(id)
	require.True(t, ok, id)
	return c
}

func window(t *testing.T, p season.Plan, name string) string {
	j := p.Job(name)
	require.NotNil(t, j, name)
	return j.From.Format("01-02") + " " + j.To.Format("01-02")
}

// TestWindowsByHand counts on a calendar from 20 April with the weeks of crops.yaml.
func TestWindowsByHand(t *testing.T) {
	for id, jobs := range map[string]map[string]string{
		"tomato": {
			"sow indoors": "03-16 03-22",                         // 5 weeks before, and that week
			"harden off":  "04-20 04-26", "plant": "04-27 05-04", // + 1 to 2 weeks
			"renew": "03-30 04-13", "feed": "05-11 06-01", "top-dress": "05-25 06-15",
			"harvest": "06-21 08-02", // 27 April + 55 days, 4 May + 90 days
			// 15 October - 90 - 14 and - 55 - 14 days
			"last sowing": "07-03 08-07",
		},
		"cucumber":  {"sow indoors": "04-06 04-12", "sow": "04-27 05-03", "plant": "05-04 05-10", "renew": "03-30 04-13"},
		"bush-bean": {"sow indoors": "04-06 04-13", "sow": "04-20 05-04", "plant": "04-27 05-04"}, // plugs 3 to 2 weeks before 27 April
		"radish":    {"sow": "03-23 03-29", "harvest": "04-13 04-28", "last sowing": "09-01 09-10"},
		"potato":    {"sow": "03-30 04-20", "feed": "04-27 05-25"}, // - 3 to 0 weeks; fed 4 to 5 weeks after
	} {
		p := court.Jobs(lib, cropOf(t, id), season.Options{})
		for name, want := range jobs {
			assert.Equal(t, want, window(t, p, name), "%s, %s", id, name)
		}
	}
	radish := court.Jobs(lib, cropOf(t, "radish"), season.Options{})
	for _, name := range []string{"sow indoors", "plant", "harden off", "feed", "top-dress"} {
		assert.Nil(t, radish.Job(name), "a radish is pulled before it is fed: %s", name)
	}
}

// TestIndoorsFollowsTheAge: where the reference has the age of a seedling, sowing week and planting week lie
// that far apart (season.md, section 1.2; celery's table does not follow the rule).
func TestIndoorsFollowsTheAge(t *testing.T) {
	seen := 0
	for _, c := range lib.Crops {
		if !c.TransplantAge.Known || !c.SowIndoors.Known || !c.Transplant.Known || c.ID == "celery" {
			continue
		}
		p := court.Jobs(lib, c, season.Options{})
		weeks := p.Job("plant").From.Sub(p.Job("sow indoors").From).Hours() / 24 / 7
		latest := p.Job("plant").To.Sub(p.Job("sow indoors").From).Hours() / 24 / 7
		assert.LessOrEqual(t, c.TransplantAge.Low, latest+0.2, c.ID)
		assert.GreaterOrEqual(t, c.TransplantAge.High+2.01, weeks, c.ID)
		seen++
	}
	assert.Greater(t, seen, 20)
}

// TestRootsLeftAlone: cucumber, squash, melon and beans are sown in plugs and set out whole; tomato is not.
func TestRootsLeftAlone(t *testing.T) {
	for _, id := range []string{"cucumber", "summer-squash", "melon", "bush-bean"} {
		p := court.Jobs(lib, cropOf(t, id), season.Options{})
		assert.Contains(t, p.Job("sow indoors").Text, "in plugs or open net pots", id)
		assert.Contains(t, p.Job("plant").Text, "root ball whole", id)
	}
	p := court.Jobs(lib, cropOf(t, "tomato"), season.Options{})
	assert.Equal(t, "Sow tomato indoors", p.Job("sow indoors").Text)
	assert.Equal(t, "when the mix is at 12.8 C (55 F) or more", p.Job("plant").Gate, "the realistic temperature before the least")
	assert.Equal(t, "when the mix is at 15.6 C (60 F) or more", court.Jobs(lib, cropOf(t, "pepper"), season.Options{}).Job("plant").Gate)
}

// TestEveryCrop: jobs have names of the list, a text, a sum and sources; windows do not run backwards.
func TestEveryCrop(t *testing.T) {
	for _, c := range lib.Crops {
		p := court.Jobs(lib, c, season.Options{})
		assert.Equal(t, c.ID == "garlic" || c.ID == "strawberry", p.Idle, c.ID)
		for _, j := range p.Jobs {
			assert.Contains(t, season.Names, j.Name)
			assert.NotEmpty(t, j.Text)
			assert.NotEmpty(t, j.Sum, "%s %s", c.ID, j.Name)
			assert.NotEmpty(t, j.Sources, "%s %s", c.ID, j.Name)
			assert.True(t, j.From.Before(j.To), "%s %s is a window", c.ID, j.Name)
			assert.Contains(t, j.Sum, season.Words(j.From, j.From, true)[:2], "%s %s: %s", c.ID, j.Name, j.Sum)
			for _, key := range j.Sources {
				_, ok := lib.Source(key)
				assert.True(t, ok, "%s %s: %s", c.ID, j.Name, key)
			}
		}
	}
}

// TestWaits: what is mixed in must wait, and the renewal comes that much earlier; a short wait moves nothing.
func TestWaits(t *testing.T) {
	pepper := cropOf(t, "pepper")
	renew := func(w facts.Wait) string {
		return window(t, court.Jobs(lib, pepper, season.Options{Wait: w}), "renew")
	}
	assert.Equal(t, "04-06 04-20", renew(facts.Wait{}), "4 to 2 weeks before 4 May")
	assert.Equal(t, "04-06 04-20", renew(facts.Wait{Plant: 1, Sow: 3}), "it is planted, not sown")
	assert.Equal(t, "03-16 03-30", renew(facts.Wait{Plant: 5}), "5 weeks before 4 May, and two before that")
	// Cucumber may be sown in the pot from 27 April, with a wait of 3 weeks: that is before its planting.
	p := court.Jobs(lib, cropOf(t, "cucumber"), season.Options{Wait: facts.Wait{Sow: 3, Plant: 1}})
	assert.Equal(t, "03-23 04-06", window(t, p, "renew"))
}

// TestOwnRenewalEndsInTime: before the first use by the recipe's wait, and by a week at least (season.yaml, renewal). A
// pepper is planted from 4 May.
func TestOwnRenewalEndsInTime(t *testing.T) {
	pepper := cropOf(t, "pepper")
	renewed := func(wait float64, on string) season.Plan {
		return court.Jobs(lib, pepper, season.Options{Wait: facts.Wait{Plant: wait}, Own: whens(t, "renew", on)})
	}
	for _, c := range []struct {
		wait       float64
		on, window string
		late       bool
	}{
		{0, "2027-04-01", "04-01 04-15", false}, // as long as the usual window
		{0, "3 weeks before planting", "04-13 04-27", false},
		{0, "10 days before planting", "04-24 04-27", false},
		{0, "1 week before planting", "04-27 04-27", false},
		{0, "6 days before planting", "04-28 04-28", true},
		{3, "4 weeks before planting", "04-06 04-13", false},
		{3, "2 weeks before planting", "04-20 04-20", true},
		{0, "2027-06-01", "06-01 06-01", true},
	} {
		p := renewed(c.wait, c.on)
		assert.Equal(t, c.window, window(t, p, "renew"), c.on)
		assert.Equal(t, c.late, p.Late.Text != "", "%s: %s", c.on, p.Late.Text)
		assert.Equal(t, c.late, len(p.Late.Sources) > 0, c.on)
	}
	assert.Contains(t, renewed(3, "2 weeks before planting").Late.Text, "less than 3 weeks before the pot is used from 4 May 2027: renew it by 13 April 2027")
	assert.Contains(t, renewed(0, "10 days before planting").Job("renew").Sum, "; to 27 April 2027, 1 week before the first use")
}

func whens(t *testing.T, pairs ...string) map[string]units.When {
	out := map[string]units.When{}
	for i := 0; i < len(pairs); i += 2 {
		w, err := units.ReadWhen(pairs[i+1])
		require.NoError(t, err)
		out[pairs[i]] = w
	}
	return out
}

// TestOwnDates: a date of the grower's own beats the table, and what hangs on it moves along.
func TestOwnDates(t *testing.T) {
	tomato := cropOf(t, "tomato")
	usual := court.Jobs(lib, tomato, season.Options{})
	moved := court.Jobs(lib, tomato, season.Options{Own: whens(t, "plant", "spring frost + 3 weeks")})
	for _, name := range []string{"sow indoors", "harden off", "plant", "renew", "feed", "top-dress", "harvest"} {
		assert.Equal(t, 14*24*time.Hour, moved.Job(name).From.Sub(usual.Job(name).From), name)
		assert.Equal(t, 14*24*time.Hour, moved.Job(name).To.Sub(usual.Job(name).To), name)
	}
	assert.Equal(t, usual.Job("last sowing").To, moved.Job("last sowing").To, "the autumn frost stays")
	own := court.Jobs(lib, tomato, season.Options{Own: whens(t, "plant", "2027-05-20", "renew", "3 weeks before planting", "sow indoors", "2027-03-01", "feed", "10 days after planting")})
	assert.Equal(t, "05-20 05-27", window(t, own, "plant"))
	assert.Equal(t, "04-29 05-13", window(t, own, "renew"))
	assert.Equal(t, "03-01 03-07", window(t, own, "sow indoors"))
	assert.Equal(t, "05-30", window(t, own, "feed")[:5])
	garlic := court.Jobs(lib, cropOf(t, "garlic"), season.Options{Own: whens(t, "plant", "2 weeks before autumn frost")})
	assert.False(t, garlic.Idle)
	assert.Equal(t, "10-01 10-07", window(t, garlic, "plant"))
	lost := court.Jobs(lib, tomato, season.Options{Own: whens(t, "plant", "2 weeks before planting", "sow indoors", "6 weeks before sowing")})
	assert.Equal(t, []string{"plant", "sow indoors"}, lost.Unknown, "a tomato is not sown where it grows")
	blind := season.Season{}.Jobs(lib, tomato, season.Options{Own: whens(t, "plant", "spring frost + 1 week", "renew", "2027-04-01")})
	assert.Contains(t, blind.Unknown, "plant")
	assert.True(t, blind.Idle)
}

// TestShortSeason: 60 days between the frosts are too few for any tomato, 100 for a slow one.
func TestShortSeason(t *testing.T) {
	tomato := cropOf(t, "tomato")
	plan := func(autumn time.Time) season.Plan {
		return season.Season{Spring: day("2027-06-01"), Autumn: autumn, Years: true}.Jobs(lib, tomato, season.Options{})
	}
	none := plan(day("2027-07-31"))
	assert.Contains(t, none.Short.Text, "Even a quick kind")
	assert.Nil(t, none.Job("last sowing"))
	some := plan(day("2027-09-09"))
	assert.Contains(t, some.Short.Text, "Choose a quick kind")
	assert.Equal(t, some.Job("plant").From, some.Job("last sowing").From, "not before it is planted at all")
	assert.Empty(t, plan(day("2027-11-30")).Short.Text)
	assert.Nil(t, plan(time.Time{}).Job("last sowing"), "without an autumn frost there is no last sowing")
}

// TestSouth: the autumn frost comes in the year after the spring frost, and the harvest between them.
func TestSouth(t *testing.T) {
	s := season.Of(2027, units.MonthDay{Month: 9, Day: 20}, units.MonthDay{Month: 5, Day: 1}, true)
	assert.Equal(t, day("2028-05-01"), s.Autumn)
	p := s.Jobs(lib, cropOf(t, "tomato"), season.Options{})
	assert.Equal(t, day("2027-09-27"), p.Job("plant").From)
	assert.Equal(t, day("2028-01-18"), p.Job("last sowing").From, "1 May 2028 - 90 - 14 days")
}

// TestFrostMovesEverything: a frost date that comes n days later moves every job but the last sowing by n days.
func TestFrostMovesEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := cropOf(t, rapid.SampledFrom(lib.CropIDs()).Draw(t, "crop"))
		n := rapid.IntRange(-40, 40).Draw(t, "days")
		base, later := court, court
		base.Autumn = base.Autumn.AddDate(1, 0, 0) // long seasons: nothing is cut off
		later.Spring, later.Autumn = court.Spring.AddDate(0, 0, n), base.Autumn
		first, second := base.Jobs(lib, c, season.Options{}), later.Jobs(lib, c, season.Options{})
		require.Len(t, second.Jobs, len(first.Jobs))
		for i, j := range first.Jobs {
			if j.Name == "last sowing" {
				continue
			}
			require.Equal(t, j.From.AddDate(0, 0, n), second.Jobs[i].From, j.Name)
			require.Equal(t, j.To.AddDate(0, 0, n), second.Jobs[i].To, j.Name)
		}
	})
}

func TestOrder(t *testing.T) {
	job := func(id, from, to, text string) facts.Job {
		return facts.Job{ID: id, From: day(from), To: day(to), Text: text}
	}
	a, b := job("p/a", "2027-04-10", "2027-04-20", "b"), job("p/b", "2027-04-10", "2027-04-12", "z")
	c, again := job("p/c", "2027-04-10", "2027-04-20", "a"), job("p/a", "2027-05-01", "2027-05-02", "b")
	want := []facts.Job{b, c, a, again}
	want[3].ID = "p/a-2"
	got := season.Order([]facts.Job{a, b, a, again, c, again})
	assert.Equal(t, want, got)
	ids := map[string]bool{}
	for _, j := range got {
		assert.False(t, ids[j.ID])
		ids[j.ID] = true
	}
}

func TestWords(t *testing.T) {
	for want, days := range map[string][2]string{
		"12 to 26 April 2027":                {"2027-04-12", "2027-04-26"},
		"30 March to 5 April 2027":           {"2027-03-30", "2027-04-05"},
		"30 December 2027 to 5 January 2028": {"2027-12-30", "2028-01-05"},
		"7 May 2027":                         {"2027-05-07", "2027-05-07"},
	} {
		assert.Equal(t, want, season.Words(day(days[0]), day(days[1]), true))
		short := strings.NewReplacer(" 2027", "", " 2028", "").Replace(want)
		assert.Equal(t, short, season.Words(day(days[0]), day(days[1]), false))
	}
}
