package builder

import (
	"cmp"
	"slices"

	"trug/builder/notes"
	"trug/builder/site"
	"trug/layouts"
)

// How much of the notes a page lists before it is made shorter, on a phone above all: notes of one topic on the front
// page, those of them that are then left, and lines of the page of notes.
const (
	mostOfTopic = 8
	fewOfTopic  = 6
	mostInFull  = 40
)

// topics groups the notes, the newest first; those without a topic come last.
func (s *rendering) topics(from site.Address) []layouts.Topic {
	const loose = "Other notes"
	groups := map[string][]*notes.Note{}
	for _, n := range s.Notes {
		for _, t := range n.Page.Topics {
			groups[t] = append(groups[t], n)
		}
		if len(n.Page.Topics) == 0 {
			groups[loose] = append(groups[loose], n)
		}
	}
	var out []layouts.Topic
	for name, group := range groups {
		t := layouts.Topic{Name: name, Anchor: topicAnchor(name), Href: from.To("notes/") + "#" + topicAnchor(name)}
		for _, n := range byDate(group) {
			t.Notes = append(t.Notes, s.item(from, n))
		}
		out = append(out, t)
	}
	slices.SortFunc(out, func(a, b layouts.Topic) int {
		if last := cmp.Compare(btoi(a.Name == loose), btoi(b.Name == loose)); last != 0 {
			return last
		}
		return cmp.Compare(a.Name, b.Name)
	})
	return out
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

func byDate(group []*notes.Note) []*notes.Note {
	out := slices.Clone(group)
	slices.SortStableFunc(out, func(a, b *notes.Note) int { return newest(b).Compare(newest(a)) })
	return out
}

// atAGlance leaves the first few notes of a topic that has many.
func atAGlance(topics []layouts.Topic) []layouts.Topic {
	for i, t := range topics {
		if len(t.Notes) > mostOfTopic {
			topics[i].All, topics[i].Notes = len(t.Notes), t.Notes[:fewOfTopic]
		}
	}
	return topics
}

// notesPage lists the notes by topic. Where they are many it leads to the topics first, and what a note is about stands
// at one of its topics, the first that it names.
func (s *rendering) notesPage() error {
	const at = site.Address("notes/")
	body := layouts.NotesPage{Topics: s.topics(at), Whole: s.wholeFrom(at)}
	lines := 0
	for _, t := range body.Topics {
		lines += len(t.Notes)
	}
	if body.Long = lines > mostInFull; body.Long {
		s.inFullOnce(body.Topics)
	}
	return s.page(at, layouts.Page{Title: "Notes", Description: "All notes by topic", Current: "Notes", Body: body})
}

// inFullOnce leaves the summary of a note at the first topic that it names.
func (s *rendering) inFullOnce(topics []layouts.Topic) {
	first := map[string]string{}
	for _, n := range s.Notes {
		if len(n.Page.Topics) > 0 {
			first[site.Address("notes/").To(n.Address)] = n.Page.Topics[0]
		}
	}
	for _, t := range topics {
		for i, item := range t.Notes {
			if topic, told := first[item.Href]; told && topic != t.Name {
				t.Notes[i].Summary = ""
			}
		}
	}
}
