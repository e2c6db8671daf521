package markdown

import (
	"regexp"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"trug/calcblocks/kit/diag"
)

// A Link is one link of a note. Target is the address as the author means it: as written, with
// backslash escapes and character references resolved and nothing else changed; an address in angle
// brackets is one too, an e-mail address with "mailto:" in front. Text is the text without markup.
// At is the first character of the target; for a link by reference that is in its definition.
type Link struct {
	Target, Text string
	At           diag.Position
}

// An Image is one image of a note; see Link. Alt is the text that stands for it.
type Image struct {
	Target, Alt string
	At          diag.Position
}

// A target is what the printer needs to know of a link or an image.
type target struct {
	text      string
	at        diag.Position
	dangerous bool
}

func (r *reader) readLink(n *ast.Link) {
	t := r.newTarget(n, n.Destination)
	t.dangerous = r.judgeTarget(t, n.Reference == nil)
	r.targets[n] = t
	written := strings.TrimSpace(r.text(n))
	r.judgeLink(n, t, written)
	if !t.dangerous {
		r.Links = append(r.Links, Link{Target: t.text, Text: written, At: t.at})
	}
}

func (r *reader) readAutoLink(n *ast.AutoLink) {
	label := n.Label(r.source)
	t := r.newTarget(n, label)
	t.text = string(label)
	if n.AutoLinkType == ast.AutoLinkEmail && !strings.HasPrefix(strings.ToLower(t.text), "mailto:") {
		t.text = "mailto:" + t.text
	}
	t.dangerous = r.judgeTarget(t, true)
	r.targets[n] = t
	if !t.dangerous {
		r.Links = append(r.Links, Link{Target: t.text, Text: string(label), At: t.at})
	}
}

func (r *reader) readImage(n *ast.Image) {
	t := r.newTarget(n, n.Destination)
	t.dangerous = r.judgeTarget(t, n.Reference == nil)
	r.targets[n] = t
	r.hideReferences(n)
	alt := strings.TrimSpace(r.text(n))
	if alt == "" {
		r.report(doubt(r.at(n.Pos()), "image-alt", "the image %q has no text that stands for it", t.text).
			Hint("say between the square brackets what the picture shows"))
	}
	if !t.dangerous {
		r.Images = append(r.Images, Image{Target: t.text, Alt: alt, At: t.at})
	}
}

// readDefinition judges the target of a reference definition; the links that use it stay silent.
func (r *reader) readDefinition(n *ast.LinkReferenceDefinition) {
	r.judgeTarget(r.newTarget(n, n.Destination), true)
}

// newTarget resolves a destination of a node and finds its place.
func (r *reader) newTarget(n ast.Node, destination []byte) target {
	at := max(n.Pos(), 0)
	if offset, ok := offsetIn(r.source, destination); ok {
		at = offset
	}
	return target{text: resolve(destination), at: r.at(at)}
}

// offsetIn returns where in source a slice of it starts. The library hands out destinations as slices
// of the text, and their capacity tells how much of it follows.
func offsetIn(source, part []byte) (int, bool) {
	offset := cap(source) - cap(part)
	if len(part) == 0 || offset < 0 || offset >= len(source) || &source[offset] != &part[0] {
		return 0, false
	}
	return offset, true
}

// resolve is what the library does to a destination before it percent-encodes it.
func resolve(destination []byte) string {
	b := util.UnescapePunctuations(destination)
	b = util.ResolveNumericReferences(b)
	return string(util.ResolveEntityNames(b))
}

// judgeLink reports a link that leads nowhere or that nobody can see.
func (r *reader) judgeLink(n *ast.Link, t target, written string) {
	switch {
	case t.text == "":
		r.report(doubt(r.at(n.Pos()), "link-empty", "the link %q has no address", written).
			Hint("write the address between the round brackets"))
	case written == "":
		r.report(doubt(r.at(n.Pos()), "link-text", "the link to %q has no text", t.text).
			Hint("say between the square brackets where it leads"))
	}
}

// dangerous are the schemes that run code or reach into the reader's own files.
var dangerous = []string{"javascript", "vbscript", "data", "file"}

// usual are the schemes that pages link to, and figure, which becomes a number. What browsers and the programs
// beside them make of any other is not known here.
var usual = []string{"", "https", "http", "mailto", "tel", "sms", "geo", "webcal", "figure"}

// judgeTarget says whether a target is dangerous, and reports it when told to.
func (r *reader) judgeTarget(t target, tell bool) bool {
	scheme := schemeOf(t.text)
	bad := slices.Contains(dangerous, scheme)
	known := slices.Contains(usual, scheme) && (scheme != "figure" || strings.HasPrefix(t.text, "figure:"))
	if !bad && (r.plain || known) {
		return false
	}
	d := diag.Errorf(t.at, "link-scheme", "the address %q starts with %q, which is not linked to", t.text, scheme+":").
		Hint("use a path in the handbook, or \"https:\", \"mailto:\" or \"tel:\"; a path whose first name holds a colon starts with \"./\"")
	switch {
	case scheme == "figure":
		d.Hints = []string{"write \"figure:\" in small letters"}
	case bad:
		d = diag.Errorf(t.at, "link-dangerous", "the address %q cannot be published: %q can harm a reader", t.text, scheme+":").
			Hint("use a path in the handbook or an address that starts with \"https:\"")
	}
	if tell {
		r.report(d)
	}
	return true
}

var schemeText = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9+.-]*$`)

// schemeOf returns the scheme of an address in lower case, "" without one. Browsers drop tabs and line
// ends anywhere and control characters and spaces in front (WHATWG URL Standard, basic URL parser).
func schemeOf(address string) string {
	address = strings.NewReplacer("\t", "", "\n", "", "\r", "").Replace(address)
	address = strings.TrimLeftFunc(address, func(c rune) bool { return c <= ' ' })
	scheme, _, found := strings.Cut(address, ":")
	if !found || !schemeText.MatchString(scheme) {
		return ""
	}
	return strings.ToLower(scheme)
}
