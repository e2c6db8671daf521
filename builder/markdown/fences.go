package markdown

import (
	"bytes"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"trug/calcblocks/kit/diag"
)

// A fence is what the tree does not keep of a fenced block: where it opens and closes.
type fence struct {
	node *ast.FencedCodeBlock
	open int // offset of the first fence character
	shut int // offset of the first character of the closing fence, -1 without one
}

var fencesKey = parser.NewContextKey()

// seenFences returns the fences of a note in the order of the file.
func seenFences(pc parser.Context) []*fence {
	all, _ := pc.Get(fencesKey).([]*fence)
	return all
}

// fenceParser parses fenced blocks as the library does and notes each one in the context.
type fenceParser struct{ parser.BlockParser }

// Open begins a fenced block.
func (p fenceParser) Open(parent ast.Node, r text.Reader, pc parser.Context) (ast.Node, parser.State) {
	_, segment := r.PeekLine()
	node, state := p.BlockParser.Open(parent, r, pc)
	if code, ok := node.(*ast.FencedCodeBlock); ok {
		// The padding of a segment is spaces that are not in the file: the rest of a tab.
		open := segment.Start - segment.Padding + pc.BlockOffset()
		pc.Set(fencesKey, append(seenFences(pc), &fence{node: code, open: open, shut: -1}))
	}
	return node, state
}

// Continue reads one more line. Only a closing fence makes the library's parser answer Close: at the
// end of the file, of a list item or of a quote the block is closed from outside.
func (p fenceParser) Continue(node ast.Node, r text.Reader, pc parser.Context) parser.State {
	line, segment := r.PeekLine()
	state := p.BlockParser.Continue(node, r, pc)
	if all := seenFences(pc); state&parser.Close != 0 && len(all) > 0 {
		indent := util.TrimLeftSpaceLength(line)
		all[len(all)-1].shut = segment.Start + max(indent-segment.Padding, 0)
	}
	return state
}

// marker returns the characters of the opening fence.
func (f *fence) marker(source []byte) string {
	line, _, _ := bytes.Cut(source[f.open:], []byte("\n"))
	return run(string(line))
}

// run returns the fence characters that a line starts with, "" when they are none or too few.
func run(line string) string {
	if line == "" || line[0] != '`' && line[0] != '~' {
		return ""
	}
	n := len(line) - len(strings.TrimLeft(line, line[:1]))
	if n < 3 {
		return ""
	}
	return line[:n]
}

// readFences judges every fenced block of the note and makes blocks of those that are ours.
func (r *reader) readFences(all []*fence) {
	for _, f := range all {
		words := r.info(f)
		kind := ""
		if len(words) > 0 {
			kind = r.judgeKind(words[0])
		}
		if swallowed, at := r.swallows(f, kind != ""); f.shut < 0 || swallowed {
			r.reportUnclosed(f, swallowed, at)
			continue
		}
		if kind != "" {
			r.judgeRest(kind, words)
			r.blocks[f.node] = newBlock(r.file, r.source, f, kind, words)
		}
	}
}

func (r *reader) reportUnclosed(f *fence, swallowed bool, at diag.Position) {
	d := diag.Errorf(r.at(f.open), "fence-unclosed", "this fence is never closed").
		Hint("add a line with %s after the last line of the block", f.marker(r.source))
	if f.node.Parent() != nil && f.node.Parent().Kind() != ast.KindDocument {
		d = d.Hint("a fence in a list item or a quote ends with it: start the closing line as far in " +
			"as the opening one, with its \">\" if there is one")
	}
	if swallowed {
		d = d.Also(at, "the block that starts here would belong to it")
	}
	r.report(d)
}

// swallows says whether the body holds a line that opens a block: then the closing fence that was
// found belongs to that one. A block of ours holds no such line at all, other code none that names a
// kind, because the text that it could show would be cut off at the first closing fence.
func (r *reader) swallows(f *fence, ours bool) (bool, diag.Position) {
	marker := f.marker(r.source)
	for i := range f.node.Lines().Len() {
		segment := f.node.Lines().At(i)
		line := string(segment.Value(r.source))
		inner := strings.TrimLeft(line, " ")
		opener := run(inner)
		if len(line)-len(inner) > 3 || !strings.HasPrefix(opener, marker) {
			continue
		}
		words := strings.Fields(inner[len(opener):])
		if len(words) > 0 && (ours || r.isKind(words[0])) {
			start := segment.Start + max(len(line)-len(inner)-segment.Padding, 0)
			return true, r.at(start)
		}
	}
	return false, diag.Position{}
}

// readCodeBlock doubts code that is code only because it is indented by four columns or more, and
// that would be a block of ours otherwise.
func (r *reader) readCodeBlock(n *ast.CodeBlock) {
	for i := range n.Lines().Len() {
		segment := n.Lines().At(i)
		line := string(segment.Value(r.source))
		inner := strings.TrimLeft(line, " ")
		words := strings.Fields(inner[len(run(inner)):])
		if run(inner) == "" || len(words) == 0 || !r.isKind(words[0]) {
			continue
		}
		at := r.at(segment.Start + max(len(line)-len(inner)-segment.Padding, 0))
		r.report(doubt(at, "block-indented", "this %s block stands so far in that it is shown as code", words[0]).
			Hint("start it in line with the text around it, or write the info word \"yaml\" to show it"))
	}
}
