package builder

import (
	"net/url"
	"regexp"
	"strings"

	"trug/calcblocks/kit/diag"
)

// Words that promise that nothing can happen. No handbook can: what is in the bag, how much of it is used
// and who stands beside it are not known here.
var (
	promise = regexp.MustCompile(`(?i)\b(?:safe|safely|harmless|risk-free|non-?toxic|no (?:risks?|dangers?)|without (?:any )?(?:risks?|dangers?)|(?:cannot|can not|can't|never|won't|will not) (?:hurt|harm)s?)\b`)
	// idiom follows a word that promises nothing of the kind.
	idiom = regexp.MustCompile(`(?i)^ (?:place|spot|side|keeping|distance|from)\b`)
	// turned is what makes a promise none, before it in the same clause.
	turned = regexp.MustCompile(`(?i)\b(?:not|never|no|none|nothing|nobody|neither|nor|without|cannot|whether|if|unless|until|hardly)\b|n't\b`)
	// clause is where what was said before does not reach any more.
	clause = regexp.MustCompile(`(?i)[.!?;:]\s|\bbut\b|\band (?:is|are|it|they)\b|\n\s*- `)
)

// promisesIn returns where a text promises safety, and the words.
func promisesIn(text string) [][2]int {
	var out [][2]int
	for _, at := range promise.FindAllStringIndex(text, -1) {
		if !harmlessUse(text, at[0], at[1]) {
			out = append(out, [2]int{at[0], at[1]})
		}
	}
	return out
}

// harmlessUse says whether words that could promise something do not: in a question, in quotes, after a "not", or in
// an idiom.
func harmlessUse(text string, from, to int) bool {
	before, after := text[:from], text[to:]
	if idiom.MatchString(strings.ReplaceAll(after, "\n", " ")) || strings.HasSuffix(before, "-") || quotedAt(before, after) {
		return true
	}
	if end := strings.IndexAny(after, ".!?;"); end >= 0 && after[end] == '?' {
		return true
	}
	if cuts := clause.FindAllStringIndex(before, -1); len(cuts) > 0 {
		before = before[cuts[len(cuts)-1][1]:]
	}
	return turned.MatchString(before)
}

func quotedAt(before, after string) bool {
	open := strings.HasSuffix(before, `"`) || strings.HasSuffix(before, "“") || strings.HasSuffix(before, "‘")
	return open && (strings.HasPrefix(after, `"`) || strings.HasPrefix(after, "”") || strings.HasPrefix(after, "’"))
}

// promises doubts words that promise safety, in the notes and in the texts of blocks.
func (p *proofreader) promises() {
	for _, n := range p.Notes {
		for _, passage := range n.Document.Passages(n.File) {
			for _, at := range promisesIn(passage.Text) {
				p.tellPromise(passage.At(at[0]), passage.Text[at[0]:at[1]])
			}
		}
	}
	for _, b := range p.published() {
		for _, at := range promisesIn(b.Source) {
			p.tellPromise(b.sourceAt(at[0]), b.Source[at[0]:at[1]])
		}
	}
}

func (p *proofreader) tellPromise(at diag.Position, words string) {
	p.doubt(at, "promise", "say what to do, such as which mask or how little of it, and that the label decides", "%q promises more than a handbook can know", strings.Join(strings.Fields(words), " "))
}

// sourceAt returns the place of a byte of the block's text.
func (p *Placed) sourceAt(offset int) diag.Position {
	in := diag.File{Text: p.Source}
	at := in.At(offset)
	if p.fence != nil {
		return p.fence.Position(at.Line, at.Column)
	}
	at.File = p.At.File
	return at
}

// outward lists the links that lead out of the handbook, which nobody follows here.
func (p *proofreader) outward() {
	for _, n := range p.Notes {
		for _, link := range n.Document.Links {
			if to, err := url.Parse(link.Target); err == nil && to.Scheme != "" && to.Scheme != strings.TrimSuffix(figureScheme, ":") {
				p.remark(link.At, "leads-out", "", "leads out of the handbook: %s", link.Target)
			}
		}
	}
}
