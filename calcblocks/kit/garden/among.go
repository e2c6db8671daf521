package garden

import "trug/calcblocks/kit/form"

// Among reads the list of materials from which a block may choose, by id, each once; all says in a hint what the
// block chooses from where the list is left out. The block looks the ids up when it computes.
func Among(n *form.Node, all string) []*form.Node {
	out := []*form.Node{}
	seen := map[string]bool{}
	items := n.Items() // its message asks for a list
	for _, item := range items {
		id, ok := item.Text()
		switch {
		case !ok:
		case seen[id]:
			item.Fault("repeated-amendment", "keep one of the two", "%q stands in the list twice", id)
		default:
			seen[id] = true
			out = append(out, item)
		}
	}
	if n.IsList() && len(items) == 0 {
		n.Fault("no-materials", "name materials, or leave \"from\" out for "+all, "the list is empty")
	}
	return out
}
