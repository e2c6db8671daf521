package builder

import (
	"bytes"
	"image"
	_ "image/gif"  // sizes of pictures
	_ "image/jpeg" // sizes of pictures
	_ "image/png"  // sizes of pictures
	"io/fs"
	"path"
	"slices"
	"strings"

	"trug/builder/notes"
	"trug/builder/site"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
)

// image copies a picture and returns where it stands.
func (s *rendering) image(n *notes.Note, target string, at diag.Position) string {
	if strings.Contains(target, "://") {
		s.Report(diag.Errorf(at, "far-picture", "the picture %q is not in the content folder", target).Hint("save it there: pages ask nothing of other hosts"))
		return ""
	}
	name := path.Join(path.Dir(n.Path), target)
	if !slices.Contains([]string{".png", ".jpg", ".jpeg", ".gif", ".webp"}, strings.ToLower(path.Ext(name))) {
		s.Report(diag.Errorf(at, "not-a-picture", "%q is not a picture that can be shown", target).Hint("use png, jpg, gif or webp"))
		return ""
	}
	body, err := fs.ReadFile(s.Handbook.files, name)
	if err != nil || strings.HasPrefix(name, "..") {
		s.Report(diag.Errorf(at, "no-picture", "there is no picture %q in the content folder", name).Hint("the path counts from the note's own folder"))
		return ""
	}
	place := site.Address("pictures/" + pictureName(name))
	s.add(place, body)
	return n.Address.To(place)
}

// pictureName keeps the folders and the ending, and makes each part fit for an address.
func pictureName(name string) string {
	ext := path.Ext(name)
	parts := strings.Split(strings.TrimSuffix(name, ext), "/")
	for i, p := range parts {
		parts[i] = data.Slug(p)
	}
	return strings.Join(parts, "/") + strings.ToLower(ext)
}

// pictureSize returns width and height in pixels, so that a page does not jump while it loads; 0 when
// the picture does not tell.
func (s *rendering) pictureSize(n *notes.Note, target string) (int, int) {
	body, err := fs.ReadFile(s.Handbook.files, path.Join(path.Dir(n.Path), target))
	if err != nil {
		return 0, 0
	}
	size, _, err := image.DecodeConfig(bytes.NewReader(body))
	if err != nil {
		return 0, 0
	}
	return size.Width, size.Height
}
