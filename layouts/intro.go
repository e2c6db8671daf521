package layouts

import "html/template"

// Intro is what the front page says of the handbook before its lists. Title is not repeated.
type Intro struct {
	Notes, Recipes, Pots  int
	NotesAt, RecipesAt    string // where the lists are
	PotsAt, CupboardAt    string
	FirstRecipe, FirstWay string // a recipe to start with: its title and where it is; "" = none
}

// Intro returns the front page's opening paragraphs.
func (l *Layouts) Intro(i Intro) (template.HTML, error) { return l.print("pages/intro.html", i) }
