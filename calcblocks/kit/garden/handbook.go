package garden

import (
	"net/url"
	"regexp"
	"slices"
	"strings"
	"time"

	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/units"
)

// A Handbook is the handbook file. Without one a handbook has the defaults of defaultHandbook.
type Handbook struct {
	Title, Address, Language, Author string
	Main                             units.Set
	Also                             []units.Set
	Rounding                         measure.Rounding
	Currency                         string
	Spring, Autumn                   units.MonthDay // average last and first frost; zero = not told
	Minima                           string         // file of daily minima, "" = none
	Sizes                            []Container
	sizes                            *form.Node
}

// Sets returns the main set and the others.
func (h Handbook) Sets() []units.Set { return append([]units.Set{h.Main}, h.Also...) }

// Year says how the garden's years run: where the average last frost of spring falls into the second half of the year, south
// of the equator.
func (h Handbook) Year() units.GrowingYear {
	return units.GrowingYear{South: h.Spring.Month >= time.July}
}

func defaultHandbook() Handbook {
	return Handbook{Title: "Potting handbook", Language: "en", Main: units.US, Also: []units.Set{units.Metric}, Currency: "USD"}
}

// readHandbook reads the root of the file, nil where there is none.
func readHandbook(root *form.Node) Handbook {
	h := defaultHandbook()
	if root == nil {
		return h
	}
	m := root.Fields("title", "address", "language", "measures", "rounding", "currency", "sizes", "author", "frost")
	h.Title = textOr(m.Get("title"), h.Title)
	h.Author = textOr(m.Get("author"), "")
	h.Address = valueOr(m.Get("address"), readAddress, "")
	h.Language = valueOr(m.Get("language"), pattern(`^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$`, "language", "en"), h.Language)
	h.Currency = valueOr(m.Get("currency"), pattern(`^[A-Z]{3}$`, "currency code", "USD"), h.Currency)
	h.Rounding = valueOr(m.Get("rounding"), measure.ParseRounding, h.Rounding)
	h.readMeasures(m.Get("measures"))
	h.readFrost(m.Get("frost"))
	h.sizes = m.Get("sizes")
	return h
}

func (h *Handbook) readMeasures(n *form.Node) {
	if n == nil {
		return
	}
	m := n.Fields("main", "also")
	h.Main = valueOr(m.Get("main"), readSet, h.Main)
	h.Also = nil
	if m.Get("also") == nil {
		return
	}
	for _, item := range m.Get("also").Items() {
		if s := valueOr(item, readSet, h.Main); s != h.Main && !slices.Contains(h.Also, s) {
			h.Also = append(h.Also, s)
		}
	}
}

func (h *Handbook) readFrost(n *form.Node) {
	if n == nil {
		return
	}
	m := n.Fields("spring", "autumn", "minima")
	h.Spring = valueOr(m.Get("spring"), units.ReadMonthDay, h.Spring)
	h.Autumn = valueOr(m.Get("autumn"), units.ReadMonthDay, h.Autumn)
	h.Minima = textOr(m.Get("minima"), "")
}

// checkSizes resolves the usual sizes once the pots are known; without any they are the usual litres.
func (h *Handbook) checkSizes(g *Garden) {
	if h.sizes == nil {
		for _, text := range []string{"10 L", "20 L", "40 L"} {
			if c, err := g.Container(text); err == nil {
				h.Sizes = append(h.Sizes, c)
			}
		}
		return
	}
	h.Sizes = g.Containers(h.sizes)
}

func textOr(n *form.Node, def string) string {
	if n == nil {
		return def
	}
	if t, ok := n.Text(); ok {
		return t
	}
	return def
}

func valueOr[T any](n *form.Node, read func(string) (T, error), def T) T {
	if n == nil {
		return def
	}
	if v, ok := form.Value(n, read); ok {
		return v
	}
	return def
}

func readSet(text string) (units.Set, error) {
	for _, s := range units.Sets {
		if string(s) == text {
			return s, nil
		}
	}
	return "", units.Faultf(0, "unknown-set", "write us, metric, uk or australian", "unknown set of measures %q", text)
}

func readAddress(text string) (string, error) {
	u, err := url.Parse(text)
	if err != nil || (u.Scheme != "https" && u.Scheme != "http") || u.Host == "" || u.RawQuery != "" || u.Fragment != "" {
		return "", units.Faultf(0, "bad-address", "write where the site will stand, such as \"https://bench.example/\"", "%q is not an address of a site", text)
	}
	return strings.TrimSuffix(text, "/") + "/", nil
}

func pattern(shape, what, example string) func(string) (string, error) {
	re := regexp.MustCompile(shape)
	return func(text string) (string, error) {
		if re.MatchString(text) {
			return text, nil
		}
		return "", units.Faultf(0, "bad-"+strings.ReplaceAll(what, " ", "-"), "write it like "+example, "%q is not a %s", text, what)
	}
}
