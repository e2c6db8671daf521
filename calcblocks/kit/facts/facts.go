// Package facts is what blocks tell the rest of the site.
package facts

import "time"

// A Fact is one of the types in this file.
type Fact interface{ fact() }

// Use says that a block uses a material: the cupboard page lists who uses what.
type Use struct{ Block, Amendment string }

// Page is what a page block says about its note.
type Page struct {
	Summary          string
	Written, Revised time.Time // zero = not told
	Topics           []string
	Hidden           bool // publish: no
	Picture          string
	PictureShows     string // for readers who cannot see it; "" = not told
}

func (Use) fact()  {}
func (Page) fact() {}
