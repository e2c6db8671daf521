package builder

import (
	"crypto/sha256"
	"fmt"
	"maps"
	"slices"
	"strings"

	"trug/builder/site"
	"trug/layouts"
)

// keptAhead is how many bytes of the site are kept for reading without a signal before a page is visited. A
// handbook of a courtyard fits in whole; of a larger one what is asked for most, and each page once it was
// visited.
const keptAhead = 6 << 20

// offlineScript adds the script that keeps the site readable without a signal. It comes last: its version is a
// digest of everything else.
func (s *rendering) offlineScript() error {
	digest := sha256.New()
	files := slices.SortedFunc(maps.Values(s.listed), func(a, b made) int { return strings.Compare(a.path, b.path) })
	for _, f := range files {
		fmt.Fprintf(digest, "%s %x\n", f.path, f.sum)
	}
	script, err := layouts.Offline(fmt.Sprintf("%x", digest.Sum(nil))[:16], keptFiles(files))
	s.add(site.Address("offline.js"), script)
	return err
}

// keptFiles lists what is kept ahead: scripts and styles, the front page, recipes and pots, then the rest.
func keptFiles(files []made) []string {
	byNeed := slices.Clone(files)
	slices.SortStableFunc(byNeed, func(a, b made) int { return need(a.path) - need(b.path) })
	var out []string
	size := 0
	for _, f := range byNeed {
		if need(f.path) == needless || size+f.size > keptAhead {
			continue
		}
		size += f.size
		out = append(out, f.path)
	}
	return out
}

const needless = 9

func need(path string) int {
	switch {
	case strings.HasSuffix(path, ".css"), strings.HasSuffix(path, ".js"), path == "index.html":
		return 0
	case !strings.HasSuffix(path, "index.html") || strings.HasPrefix(path, "whole/") || strings.HasPrefix(path, "labels/"):
		return needless
	case strings.HasPrefix(path, "recipes/"), strings.HasPrefix(path, "pots/"), strings.HasPrefix(path, "dates/"), strings.HasPrefix(path, "shopping/"):
		return 1
	}
	return 2
}
