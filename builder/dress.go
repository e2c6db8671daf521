package builder

import (
	"errors"
	"io/fs"
	"path"
	"strings"

	"trug/calcblocks/kit/diag"
	"trug/layouts"
)

// readLook reads the templates with the grower's own. What is wrong in those is reported, and ours stand in.
func (h *Handbook) readLook(files fs.FS) (*layouts.Layouts, error) {
	look, err := layouts.New(dress(files))
	if err = h.spare(err, ""); err != nil || look != nil {
		return look, err
	}
	return layouts.New(nil)
}

// spare reports what an error tells of the grower's own templates and returns no error then; any other comes
// back. printing says what was being printed.
func (h *Handbook) spare(err error, printing string) error {
	slips := layouts.Slips(err)
	for _, s := range slips {
		h.Report(h.slip(s, printing))
	}
	var unread *fs.PathError
	if errors.As(err, &unread) {
		h.Report(diag.Unread(diag.Whole(path.Join(h.folder, "dress", unread.Path)), "this file", err))
		return nil
	}
	if len(slips) > 0 {
		return nil
	}
	return err
}

func (h *Handbook) slip(s *layouts.Slip, printing string) diag.Diagnostic {
	file := diag.NewFile(path.Join(h.folder, "dress", s.Name), s.Text)
	d := diag.Errorf(diag.Position{File: file, Line: s.Line, Column: s.Column}, "dress", "%s", s.Message)
	switch near := diag.Closest(s.Wrong, s.There); {
	case near != "":
		d = d.Hint("did you mean %q?", near)
	case len(s.There) > 0:
		d = d.Hint("what there is: %s", strings.Join(s.There, ", "))
	default:
		d = d.Hint("the templates and what each reads: trug show --help dress")
	}
	if printing != "" {
		d = d.Also(diag.Position{}, "met while printing %s", printing)
	}
	return d
}
