package builder

import (
	"crypto/sha256"
	"fmt"
	"slices"
	"strings"

	"trug/builder/publish"
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
	files := slices.SortedFunc(slices.Values(s.out), func(a, b publish.File) int { return strings.Compare(a.Path, b.Path) })
	for _, f := range files {
		fmt.Fprintf(digest, "%s %d\n", f.Path, len(f.Body))
		digest.Write(f.Body)
	}
	script, err := layouts.Offline(fmt.Sprintf("%x", digest.Sum(nil))[:16], keptFiles(files))
	s.add(site.Address("offline.js"), script)
	return err
}

// keptFiles lists what is kept ahead: scripts and styles, the front page, recipes and pots, then the rest.
func keptFiles(files []publish.File) []string {
	byNeed := slices.Clone(files)
	slices.SortStableFunc(byNeed, func(a, b publish.File) int { return need(a.Path) - need(b.Path) })
	var out []string
	size := 0
	for _, f := range byNeed {
		if need(f.Path) == needless || size+len(f.Body) > keptAhead {
			continue
		}
		size += len(f.Body)
		out = append(out, f.Path)
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
