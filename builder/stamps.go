package builder

import (
	"sync"
	"time"

	"trug/builder/history"
	"trug/layouts"
)

// stamps tells a recipe's page what each earlier stamp stood for: the day of its record, and what differs
// now. A card printed since the last record, of numbers that still hold, carries the stamp of today.
func (s *rendering) stamps(p *Placed, now string) layouts.Stamps {
	numbers := sync.OnceValue(func() []history.Entry { return s.record(p, now).Numbers }) // mostly nobody asks
	out := layouts.Stamps{Now: now, Was: map[string]layouts.Stamped{}}
	for _, r := range s.History.Of(p.ID) {
		if r.Stamp == now {
			continue
		}
		told := layouts.Stamped{On: r.On.Format(time.DateOnly)}
		for i, d := range history.Compare(r.Numbers, numbers()) {
			if i < 2*mostTold {
				told.Changes = append(told.Changes, d.String())
			}
		}
		out.Was[r.Stamp] = told
	}
	return out
}
