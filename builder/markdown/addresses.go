package markdown

import (
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"
	gmhtml "github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/util"
)

// address returns what to write as the address of a link, and whether there is to be a link at all.
func (w *writer) address(t target) (string, bool) {
	switch {
	case t.dangerous:
		return "", false
	case w.hooks.Link != nil:
		to := w.hooks.Link(t.text, t.at)
		return to, to != ""
	case strings.HasPrefix(t.text, "#"):
		return "#" + w.hooks.Prefix + t.text[1:], true
	}
	return t.text, true
}

// encode writes an address as an attribute's value.
func encode(address string) string { return escape(string(util.URLEscape([]byte(address), false))) }

func (w *writer) writeLink(b util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	n, t := node.(*ast.Link), w.targets[node]
	if !entering {
		if w.linked[node] {
			_, _ = b.WriteString("</a>")
		}
		return ast.WalkContinue, nil
	}
	if to, ok := w.address(t); ok {
		w.linked[node] = true
		_, _ = b.WriteString(`<a href="` + encode(to) + `"`)
		writeTitle(b, n.Title)
		_ = b.WriteByte('>')
	}
	if w.hooks.Text == nil || t.dangerous {
		return ast.WalkContinue, nil
	}
	if text, replace := w.hooks.Text(Link{Target: t.text, Text: strings.TrimSpace(w.text(n)), At: t.at}); replace {
		_, _ = b.WriteString(escape(text))
		return ast.WalkSkipChildren, nil
	}
	return ast.WalkContinue, nil
}

func (w *writer) writeAutoLink(b util.BufWriter, source []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	label := escape(string(node.(*ast.AutoLink).Label(source)))
	if to, ok := w.address(w.targets[node]); ok {
		label = `<a href="` + encode(to) + `">` + label + "</a>"
	}
	_, _ = b.WriteString(label)
	return ast.WalkContinue, nil
}

// writeImage writes an image that loads when it comes near; without an address it is its text.
func (w *writer) writeImage(b util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	n, t := node.(*ast.Image), w.targets[node]
	alt, shown := escape(w.text(n)), Picture{Address: t.text}
	if w.hooks.Image != nil && !t.dangerous {
		shown = w.hooks.Image(Image{Target: t.text, Alt: strings.TrimSpace(w.text(n)), At: t.at})
	}
	if t.dangerous || shown.Address == "" && !w.plain {
		_, _ = b.WriteString(alt)
		return ast.WalkSkipChildren, nil
	}
	_, _ = b.WriteString(`<img src="` + encode(shown.Address) + `" alt="` + alt + `"`)
	writeTitle(b, n.Title)
	if w.plain {
		_, _ = b.WriteString(" />")
		return ast.WalkSkipChildren, nil
	}
	shown.writeMeasures(b)
	_, _ = b.WriteString(` loading="lazy">`)
	return ast.WalkSkipChildren, nil
}

// writeMeasures writes what lets a browser choose a file and keep its place free.
func (p Picture) writeMeasures(b util.BufWriter) {
	if p.Widths != "" {
		_, _ = b.WriteString(` srcset="` + escape(p.Widths) + `" sizes="` + escape(p.Sizes) + `"`)
	}
	if p.Width > 0 && p.Height > 0 {
		_, _ = b.WriteString(` width="` + strconv.Itoa(p.Width) + `" height="` + strconv.Itoa(p.Height) + `"`)
	}
}

func writeTitle(b util.BufWriter, title []byte) {
	if title != nil {
		_, _ = b.WriteString(` title="`)
		gmhtml.DefaultWriter.Write(b, title)
		_ = b.WriteByte('"')
	}
}
