package garden

import (
	"regexp"
	"slices"
	"strings"

	"trug/calcblocks/kit/diag"
)

// The grower's three files.
const (
	handbookFile = "handbook.yaml"
	potsFile     = "pots.yaml"
	cupboardFile = "cupboard.yaml"
)

// rests says on which file a diagnostic rests: where that file has faults of its own, what it would have told is
// not known, and the first fault is said alone.
var rests = map[string]string{
	"unknown-pot":       potsFile,
	"unknown-amendment": cupboardFile,
	"unknown-with":      cupboardFile,
	"no-frost-date":     handbookFile,
}

// Follows says whether a diagnostic only follows from a fault in one of the grower's files, which was reported: of
// an id because its entry could not be read, of frost dates because the handbook file has a fault.
func (g *Garden) Follows(d diag.Diagnostic) bool {
	file, knows := rests[d.Code]
	names, faulty := g.unread[file]
	if !knows || !faulty || strings.HasSuffix(d.At.Name(), "/"+file) {
		return false
	}
	return file == handbookFile || Quotes(d, names)
}

var quotedText = regexp.MustCompile(`"([^"]*)"`)

// Quotes says whether a message quotes a name for which known is true, alone or as a step of a path.
func Quotes(d diag.Diagnostic, known func(string) bool) bool {
	for _, m := range quotedText.FindAllStringSubmatch(d.Message, -1) {
		if slices.ContainsFunc(strings.Split(m[1], "/"), known) {
			return true
		}
	}
	return false
}

// UnreadPot says whether an id may be that of a pot which could not be read.
func (g *Garden) UnreadPot(id string) bool {
	names, faulty := g.unread[potsFile]
	_, known := g.Pot(id)
	return faulty && !known && names(id)
}

// Faulty says whether one of the grower's files has a fault: then no number is to be trusted.
func (g *Garden) Faulty() bool { return len(g.unread) > 0 }

var keyInFile = regexp.MustCompile(`(?m)^(?:- +)?["']?([\pL][\pL\d _-]*?)["']?\s*:`)

// unreadNames returns the ids that the entries of a file with faults may have meant.
func unreadNames(text string) func(id string) bool {
	names := map[string]bool{}
	for _, m := range keyInFile.FindAllStringSubmatch(text, -1) {
		names[kebabOf(m[1])] = true
	}
	return func(id string) bool { return names[id] || names[counted.ReplaceAllString(id, "")] }
}

// counted is the number that a pot has which is one of several.
var counted = regexp.MustCompile(`-\d+$`)

var noKebab = regexp.MustCompile(`[^a-z0-9]+`)

// kebabOf returns the id that a name may become, "" where it holds nothing for one.
func kebabOf(name string) string {
	id := strings.Trim(noKebab.ReplaceAllString(strings.ToLower(name), "-"), "-")
	if !kebab.MatchString(id) {
		return ""
	}
	return id
}
