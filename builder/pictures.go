package builder

import (
	"errors"
	"path"
	"slices"
	"strconv"
	"strings"

	"trug/builder/markdown"
	"trug/builder/notes"
	"trug/builder/pictures"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/layouts"
)

// pictureSizes tells a browser how wide a picture stands on a page before the style sheet is read: the
// column of text is 864 px wide, on a narrow screen all but the margins.
const pictureSizes = "(min-width: 900px) 864px, calc(100vw - 36px)"

// image shows a picture in the text of a note.
func (s *rendering) image(n *notes.Note, i markdown.Image) markdown.Picture {
	p, _ := s.picture(n, i.Target, i.At)
	return markdown.Picture{Address: p.Address, Width: p.Width, Height: p.Height, Widths: p.Widths, Sizes: p.Sizes}
}

// picture adds a picture's files to the site and returns it as the note shows it; what is wrong with it is reported
// at the place that names it.
func (s *rendering) picture(n *notes.Note, target string, at diag.Position) (layouts.Picture, bool) {
	set, name, ok := s.developed(n, target, at)
	if !ok {
		return layouts.Picture{}, false
	}
	var out layouts.Picture
	var widths []string
	for _, f := range set.Files {
		place := pictureAt(name, set.Name, f)
		out = layouts.Picture{Place: string(place), Address: n.Address.To(place), Width: f.Width, Height: f.Height}
		widths = append(widths, out.Address+" "+strconv.Itoa(f.Width)+"w")
	}
	if len(widths) > 1 {
		out.Widths, out.Sizes = strings.Join(widths, ", "), pictureSizes
	}
	return out, true
}

// developed returns the set of a picture of the content folder and its path there.
func (s *rendering) developed(n *notes.Note, target string, at diag.Position) (pictures.Set, string, bool) {
	wrong := func(code, hint, format string, args ...any) (pictures.Set, string, bool) {
		s.Report(diag.Errorf(at, code, format, args...).Hint("%s", hint))
		return pictures.Set{}, "", false
	}
	name := path.Join(path.Dir(n.Path), target)
	switch ending := strings.ToLower(path.Ext(name)); {
	case strings.Contains(target, "://"):
		return wrong("far-picture", "save it there: pages ask nothing of other hosts", "the picture %q is not in the content folder", target)
	case ending == ".svg":
		return wrong("not-a-picture", "an svg file can hold scripts: save the drawing as png", "%q is not a picture that can be shown", target)
	case !slices.Contains(pictureEndings, ending):
		return wrong("not-a-picture", "use png, jpg, gif or webp", "%q is not a picture that can be shown", target)
	}
	it := s.shot(name)
	switch {
	case errors.Is(it.err, errNoPicture):
		return wrong("no-picture", s.nearPicture(n, name), "there is no picture %q in the content folder", name)
	case it.err != nil:
		return wrong("bad-picture", pictureHint(it.err), "the picture %q %s", name, it.err)
	}
	return it.set, name, true
}

// nearPicture suggests the picture that a path may have meant.
func (s *rendering) nearPicture(n *notes.Note, name string) string {
	if near := nearPath(name, picturesIn(s.Handbook.files)); near != "" {
		return didYouMean(n, near)
	}
	return "the path counts from the note's own folder"
}

func pictureHint(err error) string {
	switch {
	case errors.Is(err, pictures.ErrTooLarge), errors.As(err, new(diag.TooLarge)):
		return "scale it down: no page shows more than " + strconv.Itoa(pictures.Widths[len(pictures.Widths)-1]) + " pixels across"
	case errors.Is(err, pictures.ErrMoving):
		return "save it as a gif, or as a still picture"
	}
	return "the file is damaged, or is of another kind than its name says: open it and save it anew"
}

// pictureName keeps the folders, without the ending, and makes each part fit for an address.
func pictureName(name string) string {
	parts := strings.Split(strings.TrimSuffix(name, path.Ext(name)), "/")
	for i, p := range parts {
		parts[i] = data.Slug(p)
	}
	return strings.Join(parts, "/")
}

// headPicture is the picture that a note's page block names. shown says whether it stands at the head of the
// note: not when the note shows it in its text.
func (s *rendering) headPicture(n *notes.Note) (p layouts.Picture, shown bool) {
	if n.Page.Picture == "" {
		return p, false
	}
	at := s.placeOf(n, "picture")
	p, ok := s.picture(n, n.Page.Picture, at)
	if !ok {
		return p, false
	}
	p.Alt, shown = n.Page.PictureShows, true
	for _, i := range n.Document.Images {
		if path.Clean(i.Target) == path.Clean(n.Page.Picture) {
			shown = false
			if p.Alt == "" {
				p.Alt = i.Alt
			}
		}
	}
	if p.Alt == "" {
		d := diag.Errorf(at, "image-alt", "the picture %q has no text that stands for it", n.Page.Picture)
		d.Severity = diag.Doubt
		s.Report(d.Hint("write what it shows: \"picture shows: A tub with a straight edge across the rim\""))
	}
	return p, shown
}

// placeOf returns where a key of a note's page block has its value.
func (s *rendering) placeOf(n *notes.Note, key string) diag.Position {
	for _, p := range s.inNote[n.Path] {
		if p.Kind.Name == "page" {
			if value := p.root.Mapping().Get(key); value != nil {
				return value.At()
			}
		}
	}
	return diag.Position{File: n.File}
}

// abroad is a picture as other sites show it beside a link: with its whole address, which needs the
// handbook's own.
func (s *rendering) abroad(p layouts.Picture) *layouts.Picture {
	if p.Place == "" || s.Garden.Handbook.Address == "" {
		return nil
	}
	p.Address = s.Garden.Handbook.Address + p.Place
	return &p
}
