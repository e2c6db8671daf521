package markdown

// Fold lets go of the tree of the text, which takes five times its room. What was read of the text stays, and where it is
// printed after all, it is read once more.
func (d *Document) Fold() {
	d.Prose()
	d.source, d.root, d.title = nil, nil, nil
	d.blocks, d.targets, d.ids, d.unshown = nil, nil, nil, nil
}

// unfolded is the document with its tree. Its blocks are those that were read first.
func (d *Document) unfolded() *Document {
	if d.root != nil {
		return d
	}
	fresh := Parse(d.file, d.options, nil)
	first := map[*Block]*Block{}
	for i, b := range fresh.Blocks {
		first[b] = d.Blocks[i]
	}
	for node, b := range fresh.blocks {
		if known := first[b]; known != nil {
			fresh.blocks[node] = known
		}
	}
	return fresh
}
