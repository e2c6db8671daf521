// Package site holds the addresses of pages and files, and the ways between them.
package site

import (
	"path"
	"strings"

	"trug/calcblocks/kit/data"
)

// An Address is a page's place in the site: "" for the front, "notes/tubs/spring/" for a note. A file
// has an address that does not end in a slash.
type Address string

// Note returns the address of the note at a path of the content folder: "tubs/spring.md" is
// "notes/tubs/spring/".
func Note(file string) Address {
	parts := strings.Split(strings.TrimSuffix(file, ".md"), "/")
	for i, p := range parts {
		parts[i] = data.Slug(p)
	}
	return Address("notes/" + strings.Join(parts, "/") + "/")
}

// Recipe returns the address of a recipe's page.
func Recipe(id string) Address { return Address("recipes/" + id + "/") }

// Card returns the address of a recipe's printed card.
func Card(id string) Address { return Recipe(id) + "card/" }

// Pot returns the address of a pot's page.
func Pot(id string) Address { return Address("pots/" + id + "/") }

// PotAt returns the id of the pot whose page stands at an address.
func PotAt(at Address) (id string, of bool) {
	id, of = strings.CutPrefix(string(at), "pots/")
	id, closed := strings.CutSuffix(id, "/")
	return id, of && closed
}

// Plan returns the address of a plan's page.
func Plan(id string) Address { return Address("plans/" + id + "/") }

// Trial returns the address of a trial's page.
func Trial(id string) Address { return Address("trials/" + id + "/") }

// How returns the address of the page that explains a kind's formulas.
func How(kind string) Address { return Address("how/" + kind + "/") }

// File returns the file that holds the page.
func (a Address) File() string {
	if a == "" || strings.HasSuffix(string(a), "/") {
		return string(a) + "index.html"
	}
	return string(a)
}

// Root returns the way from the page back to the site's root: "" or "../../".
func (a Address) Root() string {
	return strings.Repeat("../", strings.Count(a.File(), "/"))
}

// To returns the link from the page to another: relative, and naming the file, so that it works under
// any path and from a folder on disk.
func (a Address) To(b Address) string {
	if a.File() == b.File() {
		return path.Base(b.File())
	}
	from, to := strings.Split(path.Dir(a.File()), "/"), strings.Split(b.File(), "/")
	if from[0] == "." {
		from = nil
	}
	common := 0
	for common < len(from) && common < len(to)-1 && from[common] == to[common] {
		common++
	}
	return strings.Repeat("../", len(from)-common) + strings.Join(to[common:], "/")
}
