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

// making stands in each name: it is raised when the same photograph would come out in other bytes, so that no
// site keeps what an earlier program made of it.
const making = "1"

// Name returns the name of what Make makes of a picture's bytes.
func Name(body []byte) string {
	sum := sha256.New()
	sum.Write([]byte(making + "\n"))
	sum.Write(body)
	return hex.EncodeToString(sum.Sum(nil)[:8])
}

// everyone shares one room: it is the machine's memory.
var everyone = newRoom(atOnce)

// Make returns the set of a picture's bytes. A photograph is turned upright by its orientation tag, its
// colours go by its own profile, and what else its file holds is dropped: place, time, camera, comments,
// thumbnail. A GIF keeps its frames and its size. Errors are the three above. Many may call it at once: it
// waits until there is memory for the pixels. The libraries that read pictures are asked with whatever stands
// in a file; one that gives up loudly must not take the build along.
func Make(body []byte) (set Set, err error) {
	defer func() {
		if recover() != nil {
			set, err = Set{}, ErrUnreadable
		}
	}()
	pixels, format, err := look(body)
	if err != nil {
		return Set{}, err
	}
	everyone.with(pixels, func() { set, err = develop(body, format) })
	set.Name = Name(body)
	return set, err
}

// look returns how many pixels a picture unfolds to, without unfolding it.
func look(body []byte) (pixels int, format string, err error) {
	size, format, err := image.DecodeConfig(bytes.NewReader(body))
	switch {
	case err != nil:
		return 0, "", ErrUnreadable
	case size.Width < 1 || size.Height < 1:
		return 0, "", ErrUnreadable
	case size.Width > mostPixels/size.Height:
		return 0, "", ErrTooLarge
	case format == "webp" && moving(body):
		return 0, "", ErrMoving
	case format == "gif":
		pixels = gifPixels(body) / gifLighter
		if pixels > mostPixels {
			return 0, "", ErrTooLarge
		}
		return pixels, format, nil
	}
	return size.Width * size.Height, format, nil
}

// gifLighter is how many pixels of a GIF, a byte each, take as much as one of another picture.
const gifLighter = 4

// develop makes a set, but for its name.
func develop(body []byte, format string) (Set, error) {
	switch format {
	case "gif":
		return developGIF(body)
	case "png":
		body = stillPNG(body)
	}
	picture, err := decode(body)
	if err != nil {
		return Set{}, ErrUnreadable
	}
	return scale(picture, format)
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

// Measured is a file of a set that was made earlier, with the size that its bytes tell.
func Measured(ending string, body []byte) (File, error) {
	size, _, err := image.DecodeConfig(bytes.NewReader(body))
	if err != nil {
		return File{}, ErrUnreadable
	}
	return File{Ending: ending, Width: size.Width, Height: size.Height, Body: body}, nil
}
