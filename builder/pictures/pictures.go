// Package pictures makes photographs fit for pages: upright, in a few widths, and without a word of what a
// camera writes beside the picture. It is the only user of the imaging library.
package pictures

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"image"
	"image/gif"
	"slices"
	"sync"

	"github.com/kovidgoyal/imaging"
)

// Widths are the widths in pixels that a photograph is scaled to: a phone, a phone with a fine screen or
// a page, a page on a fine screen. None is wider than the photograph itself.
var Widths = []int{480, 960, 1600}

// mostPixels keeps a small file that unfolds into gigabytes from filling the memory.
const mostPixels = 120_000_000

// quality is that of JPEG files: no blocks to be seen, at about a sixth of a camera's bytes.
const quality = 82

// A Set is one picture in several widths, the narrowest first.
type Set struct {
	Name  string // of what the picture was made: the same bytes have the same name
	Files []File
}

// File is the picture in one width.
type File struct {
	Ending        string // ".jpg", ".png", ".gif"
	Width, Height int
	Body          []byte
}

// Widest returns the largest file.
func (s Set) Widest() File { return s.Files[len(s.Files)-1] }

// What can be wrong with a file; the texts go on after the picture's name.
var (
	ErrUnreadable = errors.New("cannot be read as a JPEG, PNG, GIF or WebP picture")
	ErrTooLarge   = fmt.Errorf("has more than %d million pixels", mostPixels/1_000_000)
	ErrMoving     = errors.New("is a moving WebP picture")
)

var (
	made   = map[[sha256.Size]byte]outcome{}
	making sync.Mutex
)

type outcome struct {
	set Set
	err error
}

// Make returns the set of a picture's bytes. A photograph is turned upright by its orientation tag, its
// colours go by its own profile, and what else its file holds is dropped: place, time, camera, comments,
// thumbnail. A GIF keeps its frames and its size. Errors are the three above. What was made once is
// remembered by its bytes, since a handbook that is being written is built again and again.
func Make(body []byte) (Set, error) {
	making.Lock()
	defer making.Unlock()
	key := sha256.Sum256(body)
	if was, ok := made[key]; ok {
		return was.set, was.err
	}
	set, err := develop(body)
	set.Name = hex.EncodeToString(key[:4])
	made[key] = outcome{set, err}
	return set, err
}

// develop makes a set. The libraries that read pictures are asked with whatever stands in a file; one that
// gives up loudly must not take the build along.
func develop(body []byte) (set Set, err error) {
	defer func() {
		if recover() != nil {
			set, err = Set{}, ErrUnreadable
		}
	}()
	size, format, err := image.DecodeConfig(bytes.NewReader(body))
	switch {
	case err != nil:
		return Set{}, ErrUnreadable
	case size.Width < 1 || size.Height < 1:
		return Set{}, ErrUnreadable
	case size.Width > mostPixels/size.Height:
		return Set{}, ErrTooLarge
	case format == "gif":
		return developGIF(body)
	case format == "webp" && moving(body):
		return Set{}, ErrMoving
	}
	picture, err := decode(body)
	if err != nil {
		return Set{}, ErrUnreadable
	}
	return scale(picture, format)
}

// moving says whether a WebP file holds frames: its header of features sets the animation bit (RFC 9649,
// section 2.7).
func moving(body []byte) bool {
	return len(body) > 20 && string(body[12:16]) == "VP8X" && body[20]&0x02 != 0
}

// decode reads a still picture, upright and in the colours of the web. A picture whose own words about
// itself are damaged is shown as its pixels stand. Only the library's own readers are asked: it would also
// run a command of that purpose where there is one, and pages would differ from machine to machine.
func decode(body []byte) (image.Image, error) {
	own := imaging.Backends(imaging.GO_IMAGE)
	picture, err := imaging.Decode(bytes.NewReader(body), own, imaging.AutoOrientation(true))
	if err == nil && picture != nil {
		return picture, nil
	}
	upright := imaging.AutoOrientation(true)
	picture, err = imaging.Decode(bytes.NewReader(body), own, upright, imaging.ColorSpace(imaging.NO_CHANGE_OF_COLORSPACE))
	if err == nil && picture != nil {
		return picture, nil
	}
	return imaging.Decode(bytes.NewReader(body), own, imaging.AutoOrientation(false), imaging.ColorSpace(imaging.NO_CHANGE_OF_COLORSPACE))
}

// scale writes a picture in the widths that it has pixels for.
func scale(picture image.Image, format string) (Set, error) {
	ending, as := ".jpg", imaging.JPEG
	if format == "png" || !imaging.IsOpaque(picture) {
		ending, as = ".png", imaging.PNG
	}
	var set Set
	for _, width := range widths(picture.Bounds().Dx()) {
		scaled := picture
		if width != picture.Bounds().Dx() {
			scaled = imaging.Resize(picture, width, 0, imaging.CatmullRom)
		}
		var out bytes.Buffer
		if err := imaging.Encode(&out, scaled, as, imaging.JPEGQuality(quality)); err != nil {
			return Set{}, ErrUnreadable
		}
		set.Files = append(set.Files, File{Ending: ending, Width: width, Height: scaled.Bounds().Dy(), Body: out.Bytes()})
	}
	set.dropUseless()
	return set, nil
}

// dropUseless leaves out narrow files that are no lighter than the widest: a line drawing of a few colours
// grows when it is scaled, since its edges turn into shades.
func (s *Set) dropUseless() {
	most := len(s.Widest().Body)
	last := len(s.Files) - 1
	kept := slices.DeleteFunc(slices.Clone(s.Files[:last]), func(f File) bool { return len(f.Body) >= most })
	s.Files = append(kept, s.Files[last])
}

// widths returns the widths for a picture of a width: never more than it has.
func widths(own int) []int {
	var out []int
	for _, w := range Widths {
		if w < own {
			out = append(out, w)
		}
	}
	if most := Widths[len(Widths)-1]; own <= most {
		out = append(out, own)
	}
	return out
}

// developGIF writes the frames anew, which leaves comments and other extensions behind.
func developGIF(body []byte) (Set, error) {
	frames, err := gif.DecodeAll(bytes.NewReader(body))
	if err != nil {
		return Set{}, ErrUnreadable
	}
	var out bytes.Buffer
	if err := gif.EncodeAll(&out, frames); err != nil {
		return Set{}, ErrUnreadable
	}
	return Set{Files: []File{{Ending: ".gif", Width: frames.Config.Width, Height: frames.Config.Height, Body: out.Bytes()}}}, nil
}
