package layouts

import (
	"bytes"
	"fmt"
	"html/template"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/view"
)

// A Page is a whole page: what its head and bars say, and a Body, one of the page types below. Links are
// relative to the page and name the file.
type Page struct {
	Title         string
	Language      string // of the text; "" = en
	Description   string
	Root          string // back to the root of the site: "../../", "" at the root
	Canonical     string // absolute address; "" = none
	HandbookTitle string
	Author        string
	Trail         []Link      // from the front page to here, without here
	Nav           []NavItem   // the bar
	Current       string      // name of the bar's item that this page belongs to
	Foot          []Link      // the links at the foot of every page
	Alternates    []File      // the same in other formats, and the feed
	LinkedData    data.Object // schema.org description; nil = none
	Picture       *Picture    // for links to the page elsewhere, its Address absolute; nil = none
	Scripts       []string    // beside our own, named from the site's root
	Body          any
}

// A Link is a name and where it leads.
type Link struct{ Name, Href string }

// A Picture is a photograph or drawing in one or more files. Widths and Sizes are HTML's srcset and sizes,
// "" with one file. Place is the widest file, named from the root of the site.
type Picture struct {
	Place, Address, Alt string
	Width, Height       int
	Widths, Sizes       string
}

// A NavItem is one item of the bar.
type NavItem struct {
	Name, Href string
	Current    bool
}

// A File is the same content in another format.
type File struct{ Type, Href, Name string }

// An Item is a line of a list of notes. Dates are ISO days, or empty.
type Item struct {
	Name, Href, Summary string
	Written, Revised    string
}

// A Topic is a named list of notes. Anchor is its id on the page; "" = none. All is how many notes it has where
// Notes holds but the first few; 0 = these are all.
type Topic struct {
	Name, Href, Anchor string
	Notes              []Item
	All                int
}

// FrontPage says what the handbook is, the season in order and what is new.
type FrontPage struct {
	Title   string
	Intro   template.HTML
	Season  []Season
	DatesAt string // way to the page of dates
	Topics  []Topic
	Newest  []Item
}

// Season is one part of the season. From and To, month and day ("04-20") or ISO days, let the script
// mark today's part.
type Season struct{ When, What, Href, From, To string }

// NotePage is a note. Body is HTML that the markdown writer has made.
type NotePage struct {
	Title, Summary   string
	Written, Revised string
	Topics           []Link
	Anchor           string   // id of the title; "" = none
	Picture          *Picture // at its head; nil = none
	Body             template.HTML
	Recipes          []Link
}

// NotesPage lists the notes by topic. Long asks for ways to the topics at the top.
type NotesPage struct {
	Topics []Topic
	Long   bool
	Whole  string // all of them on one page; "" = there is none
}

// RecipesPage lists the recipes.
type RecipesPage struct{ Recipes []RecipeItem }

// RecipeItem is one recipe of the list. Crop is text: "pepper, 2 plants".
type RecipeItem struct {
	Name, Href, Summary string
	For, Crop           string
	Sizes               []Link
	UsedIn              []Link
}

// RecipePage is one recipe alone.
type RecipePage struct {
	Title, Summary string
	Parts          template.HTML
	Files          []File
	UsedIn         []Link
	Stamp          string
	Stamps         Stamps
	Card           string // way to the printed card
}

// BlockPage is one block alone, or several of a kind, such as the season's shopping list. Empty is what to
// say when it has no parts.
type BlockPage struct {
	Title, Summary, Empty string
	Parts                 template.HTML
	Files                 []File
	UsedIn                []Link
	SameIn                []Link // notes that say the same, and are left out
}

// PotsPage is the inventory. Parts holds the drawing to scale.
type PotsPage struct {
	Parts template.HTML
	Pots  []PotItem
	Gone  []PotItem // that have left
}

// PotItem is one line of the inventory; Count below 2 is one pot. Gone is the ISO day on which it left, or empty.
type PotItem struct {
	Name, Href, Volume, Shape, Place string
	Count                            int
	Gone                             string
}

// PotPage is one container.
type PotPage struct {
	Title, Place string
	Count        int
	Gone         string        // ISO day on which it left; "" = it stands
	Next         []Season      // this pot's jobs in order
	Season       template.HTML // what this season's plan gives it
	SeasonName   string        // "2027"
	History      template.HTML
	Parts        template.HTML // drawing and measures
	Recipes      []Link        // of a pot that no plan gives one, each at this pot's size; the first few
	AllRecipes   string        // way to the list of recipes, where there are more; "" = there are not
}

// CupboardPage lists every amendment used.
type CupboardPage struct{ Amendments []Amendment }

// Amendment is one entry of the cupboard. Analysis is one row, by nutrient. Sources are keys of works.
type Amendment struct {
	ID, Name, Form string
	Analysis       []Nutrient
	Density        string
	Sources        []string
	Prices         []string
	Stock          string
	Cautions       []view.Caution
	UsedBy         []Link
}

// Nutrient is one figure of an analysis: "K2O", "2 to 3 %".
type Nutrient struct{ Name, Text string }

// SourcesPage is the bibliography.
type SourcesPage struct{ Sources []Source }

// Source is one work. Its key is its id on the page. UsedBy leads back to every block that rests on it.
type Source struct {
	Key, Title, Publisher string
	Year                  int // 0 = not known
	Number, URL, Place    string
	Confidence            sources.Confidence // "" = nothing is said
	UsedBy                []Link
}

// PlainPage is a title and HTML that is already made.
type PlainPage struct {
	Title, Summary string
	HTML           template.HTML
}

// NotFoundPage is shown for an address that holds nothing.
type NotFoundPage struct{}

// framed is what pages/frame.html prints, and, without Inside, what a page's own template reads.
type framed struct {
	Here       Page
	Body       any
	Inside     template.HTML
	Dressed    bool
	LinkedData template.JS
	look       *Layouts
}

// Page returns a whole page.
func (l *Layouts) Page(p Page) ([]byte, error) { return l.AppendPage(nil, p) }

// AppendPage appends a whole page.
func (l *Layouts) AppendPage(to []byte, p Page) ([]byte, error) {
	name, ok := pageName(p.Body)
	if !ok {
		return nil, fmt.Errorf("layouts: no template for a page of type %T", p.Body)
	}
	if p.Language == "" {
		p.Language = "en"
	}
	f := framed{Here: p, Body: p.Body, Dressed: l.dressed(), LinkedData: linked(p.LinkedData), look: l}
	inside, err := l.inside("pages/"+name+".html", f)
	if err != nil {
		return nil, err
	}
	whole, err := l.around("pages/frame.html", inside, func(mark template.HTML) any { f.Inside = mark; return f })
	for _, text := range whole {
		to = append(to, text...)
	}
	return to, err
}

// linked writes the description as JSON that cannot end its own element.
func linked(o data.Object) template.JS {
	if len(o) == 0 {
		return ""
	}
	text := data.JSON(o)
	for char, code := range map[string]string{"<": `\u003c`, ">": `\u003e`, "&": `\u0026`} {
		text = bytes.ReplaceAll(text, []byte(char), []byte(code))
	}
	return template.JS(text)
}

// Marked returns the cautions as the caution template reads them, the block's own first.
func (f framed) Marked(cautions []view.Caution) ([]markedCaution, error) {
	return f.look.printer(Context{Root: f.Here.Root}).marked(cautions)
}

// Spots are the pots of a place: "south wall, 2 of them".
func (f framed) Spots(place string, n int) string {
	switch {
	case n < 2:
		return place
	case place == "":
		return fmt.Sprintf("%d of them", n)
	}
	return fmt.Sprintf("%s, %d of them", place, n)
}
