package layouts

import (
	"fmt"
	"html/template"
	"strconv"
	"strings"

	"trug/calcblocks/kit/view"
)

// A Context says where a block's parts stand.
type Context struct {
	Root    string // back to the root of the site: "../../"
	BlockID string // unique on its page: ids and the reader's ticks hang on it
	Heading int    // level of the parts' own titles
	InNote  bool   // other text stands around the block: it is framed, and its anchors carry its id
	How     string // page that explains the block's formulas, relative; "" = none
	Main    string // main spoon set: "us"; "" = the first that a part names
}

// here is what every part's template knows about its place.
type here struct {
	Root  string
	Block string
	ID    string // of this part, unique on the page
	How   string // page that explains the formulas
	Level int    // of this part's title
	Inner int    // of a title below it
}

// printer prints the parts of one block. Copies share the count that makes ids unique.
type printer struct {
	Context
	layouts *Layouts
	level   int
	size    string // anchor of the size that the parts belong to
	made    map[string]int
	kept    *kept // nil = for one place
}

// blockModel is what parts/block.html prints.
type blockModel struct {
	here
	Plate bool // framed, because other text stands around it
	Parts []template.HTML
}

// Parts returns the HTML of a block's parts at one place; Print is for a block that stands in several.
func (l *Layouts) Parts(doc view.Doc, c Context) (template.HTML, error) {
	if len(doc.Parts) == 0 {
		return "", nil // a block that shows nothing leaves no empty frame
	}
	p := l.printer(c)
	parts, err := p.all(doc.Parts)
	if err != nil {
		return "", err
	}
	return p.block(parts)
}

func (p printer) block(parts []template.HTML) (template.HTML, error) {
	return p.print("block", blockModel{p.here("block"), p.InNote, parts})
}

func (l *Layouts) printer(c Context) printer {
	return printer{Context: c, layouts: l, level: max(c.Heading, 1), made: map[string]int{}}
}

func (p printer) all(parts []view.Part) ([]template.HTML, error) {
	out := make([]template.HTML, 0, len(parts))
	for _, part := range parts {
		html, err := p.part(part)
		if err != nil {
			return nil, err
		}
		out = append(out, p.keep(html, false))
		if head, ok := part.(view.More); ok {
			p = p.below(head.Title)
		}
	}
	return out, nil
}

// part prints one part. A part that it does not know is our own fault, and loud.
func (p printer) part(part view.Part) (template.HTML, error) {
	switch v := part.(type) {
	case view.Paragraph:
		return p.print("paragraph", v)
	case view.More:
		return p.print("more", moreModel{p.here("more"), v})
	case view.Steps:
		return p.steps(v)
	case view.Pots:
		return p.print("pots", p.pots(v.Title, v.Items))
	case view.Sizes:
		return p.sizes(v)
	case view.Amounts:
		return p.amounts(v)
	case view.Variants:
		return p.variants(v)
	case view.Ticks:
		return p.print("ticks", p.ticks(v))
	case view.Figures:
		return p.print("figures", p.figures(v))
	case view.Table:
		return p.print("table", p.table(v))
	case view.Bars:
		return p.print("bars", p.bars(v))
	case view.Chart:
		return p.print("chart", p.chart(v))
	case view.Dots:
		return p.print("dots", p.dots(v))
	case view.Cautions:
		return p.cautions(v)
	case view.Section:
		return p.section(v)
	case view.Working:
		return p.working(v)
	case view.Listing:
		return p.print("listing", listingModel{p.here("listing"), v, marked(v)})
	case view.Bibliography:
		return p.bibliography(v)
	}
	return "", fmt.Errorf("layouts: no template for the part %T", part)
}

func (p printer) print(name string, model any) (template.HTML, error) {
	return p.layouts.print("parts/"+name+".html", model)
}

// here gives a part its place. The double hyphen keeps ids apart from those of headings, which never
// hold one.
func (p printer) here(kind string) here {
	p.made[kind]++
	return here{
		Root:  p.Root,
		Block: p.BlockID,
		How:   p.How,
		ID:    strings.TrimPrefix(p.BlockID+"--"+kind+"-"+strconv.Itoa(p.made[kind]), "-"),
		Level: p.level,
		Inner: p.level + 1,
	}
}

// below returns a printer for what stands under a title.
func (p printer) below(title string) printer {
	if title != "" {
		p.level++
	}
	return p
}

// anchor makes the address of a size unique on its page: in a note there may be several blocks.
func (p printer) anchor(name string) string {
	if name == "" {
		return ""
	}
	return p.before() + name
}

// before is what stands before the anchors of a block's sizes.
func (p printer) before() string {
	switch {
	case p.BlockID == "":
		return ""
	case p.kept != nil:
		return anchorMark
	case p.InNote:
		return p.BlockID + "-"
	}
	return ""
}
