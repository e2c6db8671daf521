package pothistory

import (
	"maps"
	"slices"
	"strings"
	"time"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
)

// Check reports what the diaries of a handbook say against each other, whatever block it stands in: a harvest before
// the planting, one crop planted twice on a day, and (doubts) a harvest of what nobody planted and a planting while
// another crop still stands. It is called once, when all events are known.
func Check(told []facts.Fact, report func(diag.Diagnostic)) {
	var events []facts.Event
	for _, f := range told {
		if e, ok := f.(facts.Event); ok {
			events = append(events, e)
		}
	}
	pots := byPot(events)
	for _, pot := range slices.Sorted(maps.Keys(pots)) {
		checkHarvests(pots[pot], report)
		checkPlantings(pots[pot], report)
	}
}

func isPlanting(e facts.Event) bool { return e.Did == "planted" || e.Did == "sown" }

// oneCrop is how many days may lie between a harvest and the planting that it is taken for. So near to each other, one of
// the two days is wrong; what was planted later is more likely a second crop, and the first was not noted (judgement, no
// source).
const oneCrop = 31

// checkHarvests reports the first harvest of each crop that comes before every planting of it. Where no planting
// follows soon, the one before was not noted, as where a diary begins in midsummer.
func checkHarvests(events []facts.Event, report func(diag.Diagnostic)) {
	first := map[string]facts.Event{}
	for _, e := range events {
		if _, ok := first[e.Crop]; isPlanting(e) && !ok {
			first[e.Crop] = e
		}
	}
	told := map[string]bool{}
	for _, e := range events {
		planted, ok := first[e.Crop]
		if e.Did != "harvested" || e.Crop == "" || told[e.Crop] || ok && !e.On.Before(planted.On) {
			continue
		}
		told[e.Crop] = true
		d := diag.Errorf(e.CropAt, "harvest-before-planting", "%q was harvested from %q before it was planted or sown there", e.Crop, e.Pot)
		if ok && planted.On.Before(e.On.AddDate(0, 0, oneCrop)) {
			report(d.Hint("check the days").Also(planted.At, "it was %s on %s", planted.Did, planted.On.Format(time.DateOnly)))
			continue
		}
		d.Severity = diag.Doubt
		report(d.Hint("add the day on which it was planted or sown, in this diary or another: \"did: planted, crop: %s\"", e.Crop))
	}
}

// standing is what grows in a pot while the days go by.
type standing struct{ crops []facts.Event }

// checkPlantings reports a crop that is planted twice on one day, and doubts a planting among another crop of
// which nothing was told since.
func checkPlantings(events []facts.Event, report func(diag.Diagnostic)) {
	var s standing
	for _, e := range events {
		switch {
		case isPlanting(e):
			s.plant(e, report)
		case e.Did == "renewed":
			s.crops = nil
		case e.Did == "harvested":
			s.remove(e.Crop)
		case clears(e):
			if e.Crop == "" {
				s.crops = nil
			}
			s.remove(e.Crop)
		}
	}
}

func (s *standing) remove(crop string) {
	s.crops = slices.DeleteFunc(s.crops, func(e facts.Event) bool { return e.Crop == crop })
}

// plant adds a crop. Crops of one day share the pot, and so do those whose note says so; a crop of more than a
// year ago is taken to be gone.
func (s *standing) plant(e facts.Event, report func(diag.Diagnostic)) {
	for _, before := range s.crops {
		same := before.Crop == e.Crop
		switch {
		case same && before.On.Equal(e.On):
			d := diag.Errorf(e.CropAt, "planted-twice", "%q is planted in %q twice on %s", e.Crop, e.Pot, e.On.Format(time.DateOnly))
			report(d.Hint("keep one of the two lines; \"plants\" says how many").Also(before.CropAt, "the first is here"))
		case !same && before.On.Before(e.On) && e.On.Before(before.On.AddDate(1, 0, 0)) && !shares(e):
			d := diag.Errorf(e.CropAt, "still-there", "%q was %s in %q while %q stood there", e.Crop, e.Did, e.Pot, before.Crop)
			d.Severity = diag.Doubt
			report(d.Hint("write the harvest of %q, or \"did: noted, crop: %s, note: cleared\"; where both grow in the pot, a note \"beside %s\" says so", before.Crop, before.Crop, before.Crop).
				Also(before.At, "it was %s on %s", before.Did, before.On.Format(time.DateOnly)))
		}
	}
	s.remove(e.Crop)
	s.crops = append(s.crops, e)
}

// clears says whether a note says that what stood in the pot is gone.
func clears(e facts.Event) bool {
	return e.Did == "noted" && says(e.Note, "cleared", "pulled", "removed", "gone", "died", "finished")
}

// shares says whether a note says that the planting shares the pot.
func shares(e facts.Event) bool {
	return says(e.Note, "beside", "between", "under", "among", "together")
}

func says(note string, words ...string) bool {
	return slices.ContainsFunc(strings.FieldsFunc(strings.ToLower(note), func(r rune) bool { return r < 'a' || r > 'z' }), func(w string) bool {
		return slices.Contains(words, w)
	})
}
