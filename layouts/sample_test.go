package layouts

import (
	"html/template"
	"testing"

	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/view"
)

// The sample is a small handbook with invented numbers, one page of each type and one part of each.

func samplePots() []view.Pot {
	return []view.Pot{
		{Name: "10 L", Volume: "about 10 L", TopCM: 26, BaseCM: 19.5, HeightCM: 23.9, FillCM: 21, Assumed: true, Description: "round pot, 26 cm across the top, 24 cm deep"},
		{Name: "20 L", Volume: "about 20 L", TopCM: 32.8, BaseCM: 24.6, HeightCM: 30.2, FillCM: 27, Assumed: true, Description: "round pot, 33 cm across the top, 30 cm deep"},
		{Name: "Blue tub", Volume: "28 L", TopCM: 38, BaseCM: 30, HeightCM: 34, FillCM: 31, Description: "round pot, 38 cm across the top, 34 cm deep"},
		{Name: "Window trough", Volume: "19 L", TopCM: 60, BaseCM: 54, HeightCM: 18, FillCM: 16, Description: "trough, 60 cm long, 18 cm deep"},
		{Name: "Half barrel", Volume: "100 L", TopCM: 62, BaseCM: 52, HeightCM: 42, FillCM: 38, Description: "round pot, 62 cm across the top, 42 cm deep"},
	}
}

func sampleCautions() []view.Caution {
	return []view.Caution{
		{ID: "dust", Word: "Dust", Text: "Fine meals and powders irritate eyes, skin and lungs. Pour from low down, dampen first, and wear a dust mask.", Defer: "Follow the label.", Sources: []string{"dust-notice-1989"}},
		{ID: "p-over", Word: "More phosphorus than needed", Text: "The mix gets about 3 times the phosphorus that two peppers take up. Leave the bone meal out next spring.", Sources: []string{"court-need-2019", "planning-values"}, Guard: true},
	}
}

func sampleAmounts() view.Amounts {
	return view.Amounts{
		Title: "What goes in", Sets: []string{"us", "metric"},
		Rows: []view.Amount{
			{Amendment: "alfalfa-meal", Name: "Alfalfa meal", Measures: map[string]string{"us": "1/4 to 1/3 cup", "metric": "1/4 to 1/3 cup"}, Grams: "36 to 48 g", Reason: "gentle nitrogen, from the second week on"},
			{Amendment: "feather-meal", Name: "Feather meal", Measures: map[string]string{"us": "2 tsp", "metric": "2 tsp"}, Grams: "5.2 g", Reason: "slow nitrogen, all season", Error: "rounded up by 3 %"},
			{Amendment: "bone-meal", Name: "Bone meal", Measures: map[string]string{"us": "1 1/4 cup + 2 tbsp", "metric": "1 1/4 cup + 1 tbsp"}, Grams: "210 g", Reason: "phosphorus and lime"},
		},
		Choices: []view.Choice{{Name: "potash", Options: []view.Amount{
			{Amendment: "kelp-meal", Name: "Kelp meal", Measures: map[string]string{"us": "1/3 cup", "metric": "1/3 cup"}, Grams: "51 g", Reason: "gentle potash and traces", Brings: "0.5 g N, 1.3 g K2O"},
			{Amendment: "wood-ash", Name: "Wood ash", Measures: map[string]string{"us": "2 tbsp + 2 tsp", "metric": "2 tbsp + 2 tsp"}, Grams: "19 g", Reason: "quick potash, raises pH", Brings: "1 g K2O, 4.8 g Ca"},
			{Amendment: "langbeinite", Name: "Langbeinite", Measures: map[string]string{"us": "1 to 2 tsp", "metric": "1 to 2 tsp"}, Grams: "7 to 15 g", GramsFirst: true, Reason: "potash and magnesium, no lime", Brings: "1.5 to 3.2 g K2O, 0.8 to 1.6 g Mg"},
		}}},
	}
}

func sampleBars() view.Bars {
	return view.Bars{Title: "What it brings, against the need", Unit: "g", Rows: []view.Bar{
		{Label: "N", Low: 3.1, High: 4.4, Need: &view.Band{Low: 3, High: 5}, Text: "82 to 116 % of the need"},
		{Label: "P2O5", Low: 6.2, High: 6.9, Need: &view.Band{Low: 1.2, High: 2}, Text: "about 3 times the need"},
		{Label: "K2O", Low: 2.2, High: 2.2, Need: &view.Band{Low: 4, High: 6.5}, Text: "about half of the need"},
		{Label: "Mg", Low: 0.4, High: 0.6},
	}}
}

func sampleTicks() view.Ticks {
	return view.Ticks{Title: "To buy", Items: []view.Tick{
		{ID: "kelp-meal", Text: "Kelp meal", Much: "2 × 500 g", Detail: "6.50 each; 130 g left over"},
		{ID: "gypsum", Text: "Gypsum", Detail: "800 g; no pack is known"},
	}}
}

func sampleChart() view.Chart {
	return view.Chart{Title: "Release and demand", Unit: "g N per litre", Across: "week", At: []float64{0, 2, 8, 20}, Lines: []view.Line{
		{Label: "released", Points: []view.Point{{}, {Low: 0.1, Typical: 0.2, High: 0.3}, {Low: 0.3, Typical: 0.45, High: 0.5}, {Low: 0.4, Typical: 0.5, High: 0.62}}},
		{Label: "drawn", Points: []view.Point{{}, {Low: 0.01, Typical: 0.01, High: 0.01}, {Low: 0.2, Typical: 0.2, High: 0.2}, {Low: 0.7, Typical: 0.7, High: 0.7}}},
	}}
}

func sampleDots() view.Dots {
	return view.Dots{Title: "Harvest", Unit: "g", Percent: 95, Rows: []view.Dot{
		{Label: "kelp", Values: []float64{410, 380.5, 455}, Mean: 415.2, Interval: &view.Band{Low: 322, High: 508}, Text: "3 pots"},
		{Label: "none", Values: []float64{395, 395}, Mean: 395, Text: "2 pots"},
	}}
}

func sampleSection() view.Section {
	return view.Section{Title: "Through the pot", Pot: samplePots()[2], Layers: []view.Layer{
		{Kind: "old", Label: "Old mix that stays", FromCM: 0, ToCM: 22, Width: "30 to 35 cm wide"},
		{Kind: "compost", Label: "Yard compost, screened", FromCM: 22, ToCM: 27, Width: "36 cm wide"},
		{Kind: "mix", Label: "Fresh mix", FromCM: 27, ToCM: 31},
		{Kind: "headspace", Label: "Headspace", FromCM: 31, ToCM: 34},
	}, Marks: []view.Mark{{Label: "old mix before", AtCM: 26}}}
}

func sampleSizes() view.Sizes {
	sizes := view.Sizes{Title: "Pick your pot"}
	labels := []string{"10 L", "20 L", "blue-tub", "window-trough", "half-barrel"}
	for i, pot := range samplePots() {
		notes := []string(nil)
		if pot.Assumed {
			notes = []string{"This shape is assumed: measure your pot to be sure."}
		}
		sizes.Items = append(sizes.Items, view.Size{
			Label: labels[i], Anchor: "for-" + data.Slug(labels[i]), Litres: pot.Volume, Pot: pot, Notes: notes,
			Parts: []view.Part{
				sampleAmounts(),
				view.Variants{Items: []view.Variant{
					{With: []string{"wood-ash"}, Label: "with wood ash", Parts: []view.Part{view.Cautions{Title: "Cautions", Items: sampleCautions()[:1]}}},
					{With: []string{"kelp-meal"}, Label: "with kelp meal", Default: true, Parts: []view.Part{
						sampleBars(),
						view.Figures{Title: "In figures", Rows: []view.Figure{{Label: "Cost", Value: "2.10 USD", Note: "bone meal has no price"}, {Label: "Salt added", Value: "0.2 to 0.4 mS/cm"}, {Label: "Wait before planting", Value: "2 weeks"}, {Label: "C to N", Value: "not known"}}},
						view.Cautions{Title: "Cautions", Items: sampleCautions()},
					}},
					{With: []string{"langbeinite"}, Label: "with langbeinite", Parts: []view.Part{view.Paragraph{Text: "Brings potash and magnesium together."}}},
				}},
			},
		})
	}
	return sizes
}

func sampleDoc() view.Doc {
	return view.Doc{Parts: []view.Part{
		view.Paragraph{Text: "Written for 60 L of mix and two pepper plants."},
		sampleSizes(),
		view.Steps{Title: "Steps", Items: []view.Step{
			{Text: "Take out the top third of the old mix and crumble it."},
			{Text: "Dampen the meals and fold them in.", Cautions: sampleCautions()[:1]},
			{Text: "Water once, then wait two weeks."},
		}},
		sampleSection(),
		view.Pots{Title: "Pots", Items: samplePots()},
		view.Table{Caption: "Released, week by week", Columns: []view.Column{{Head: "Week"}, {Head: "N, g", Numeric: true}, {Head: "K2O, g", Numeric: true}}, Rows: [][]string{{"2", "0.4 to 0.7", "0.9"}, {"8", "1.6 to 2.2", "1.2"}, {"season", "2.9 to 3.8", "2.2"}}, Notes: []string{"About: warmth and water decide."}},
		view.Working{Title: "Working", Steps: []view.WorkingStep{{What: "kelp meal, grams", Sum: "78.9 mL x 0.64 g/mL = 50.5 g", Sources: []string{"cup-weights-2020"}}}},
		view.Bibliography{Title: "Sources", Entries: sampleEntries()},
		view.Listing{Title: "How this was written", Language: "yaml", Text: "title: Spring renewal\nfor: 60 L   # two tubs\namounts:\n  alfalfa-meal: 3/4 to 1 cup\n  potash, one of:\n    kelp-meal: 1 cup\nsteps:\n  - Fold in the meals.\n"},
	}}
}

func sampleEntries() []sources.Entry {
	return []sources.Entry{
		{Key: "court-need-2019", Title: "Nutrient need of courtyard crops", Publisher: "Tanglewick growers", Year: 2019, Number: "Sheet 4", URL: "https://bench.example/need"},
		{Key: "cup-weights-2020", Title: "Weights of a level cup", Place: "cupboard.yaml:3", Kind: "own"},
		{Key: "dust-notice-1989", Title: "Notice on dust", Publisher: "Bench safety circle", Year: 1989},
	}
}

func printSample(t *testing.T, l *Layouts, doc view.Doc, c Context) template.HTML {
	t.Helper()
	html, err := l.Parts(doc, c)
	require.NoError(t, err)
	return html
}

const sampleProse = `<p>The tubs have slept since October. Before anything goes in, <a href="../../notes/compost/index.html">look at the compost</a>, and read the <a href="https://bench.example/label/">label of the bag</a>.<sup id="fnref:1"><a href="#fn:1">1</a></sup></p>
<h2 id="what-the-tubs-need">What the tubs need</h2>
<p>Peppers are hungry from June on. Two plants take about <a href="../../recipes/spring-tubs/index.html#for-20-l">3.8 g of nitrogen</a> in a season.</p>
<blockquote><p>Feed the mix in spring, the plant in summer.</p></blockquote>
<ul><li><input type="checkbox" disabled checked aria-label="done"> Tubs emptied</li><li><input type="checkbox" disabled aria-label="not done"> Compost screened</li></ul>
<dl><dt>Firmed</dt><dd>Pressed down by hand, as it will settle.</dd></dl>
<div class="table-scroll" tabindex="0" role="region" aria-label="Table"><table><thead><tr><th scope="col">Tub</th><th scope="col">Last year</th></tr></thead><tbody><tr><td>Blue</td><td>Beans</td></tr></tbody></table></div>
<pre class="source-text" tabindex="0"><code><span class="nt">title</span><span class="p">:</span><span class="w"> </span><span class="l">Spring renewal</span><span class="w"> </span><span class="c"># for two tubs</span>
</code></pre>
`

func samplePicture() *Picture {
	return &Picture{Place: "pictures/tub-9/960.jpg", Address: "../pictures/tub-9/960.jpg", Alt: "A tub <full> of leaves", Width: 960, Height: 720, Widths: "../pictures/tub-9/480.jpg 480w, ../pictures/tub-9/960.jpg 960w", Sizes: "100vw"}
}

func samplePages(t *testing.T, l *Layouts) map[string]Page {
	t.Helper()
	page := func(root, title, current string, body any) Page {
		return Page{
			Title: title, Root: root, Description: "Numbers for the pots of the court.", HandbookTitle: "Tanglewick Court potting bench",
			Author: "The courtyard growers", Canonical: "https://bench.example/" + data.Slug(title) + "/", Current: current, Body: body,
			Nav: []NavItem{
				{Name: "Notes", Href: root + "notes/index.html"},
				{Name: "Recipes", Href: root + "recipes/index.html"},
				{Name: "Pots", Href: root + "pots/index.html"},
				{Name: "Cupboard", Href: root + "cupboard/index.html"},
				{Name: "Sources", Href: root + "sources/index.html"},
			},
		}
	}
	used := []Link{{"Spring renewal", "../notes/tubs/spring/index.html"}, {"Late feeding", "../notes/late/index.html"}}
	items := []Item{
		{Name: "Renewing the tubs in spring", Href: "notes/tubs/spring/index.html", Summary: "How much old mix comes out, and what goes in.", Written: "2027-03-02", Revised: "2027-04-12"},
		{Name: "What the heap gave", Href: "notes/heap/index.html", Summary: "Forty litres, and fewer stones than last year.", Written: "2027-02-20"},
	}
	topics := []Topic{{Name: "Tubs", Anchor: "tubs", Notes: items}, {Name: "Compost", Anchor: "compost", Notes: items[1:]}}
	recipe := page("../../", "Spring renewal for fruiting crops", "Recipes", RecipePage{
		Title: "Spring renewal for fruiting crops", Summary: "For peppers: slow nitrogen, gentle potash, no more lime.",
		Parts: printSample(t, l, sampleDoc(), Context{Root: "../../", BlockID: "spring-tubs", Heading: 2, Main: "us"}),
		Files: []File{{"application/json", "../spring-tubs.json", "Numbers (JSON)"}, {"text/csv", "../spring-tubs.csv", "Numbers (CSV)"}}, UsedIn: used, Stamp: "k3f9-2mq7",
	})
	recipe.Trail = []Link{{"Recipes", "../index.html"}}
	recipe.Alternates = []File{{"application/json", "../spring-tubs.json", "Numbers (JSON)"}}
	recipe.LinkedData = data.Object{{Key: "name", Value: data.Text("Spring </script> renewal")}}
	in := func(id string) template.HTML {
		return printSample(t, l, view.Doc{Parts: []view.Part{sampleSizes(), sampleSection()}}, Context{Root: "../../../", BlockID: id, Heading: 3, InNote: true})
	}
	note := page("../../../", "Renewing the tubs in spring", "Notes", NotePage{
		Title: "Renewing the tubs in spring", Summary: "How much old mix comes out, and what goes in.", Written: "2027-03-02", Revised: "2027-04-12",
		Topics: []Link{{"Tubs", "../../index.html#tubs"}},
		Body: sampleProse + in("spring-tubs") + "<h2 id=\"later\">Later in the year</h2>\n" + in("late-tubs") +
			`<section class="footnotes" role="doc-endnotes"><ol><li id="fn:1"><p>Bags differ.</p></li></ol></section>`,
		Recipes: []Link{{"Spring renewal", "../../../recipes/spring-tubs/index.html"}},
	})
	note.Trail = []Link{{"Notes", "../../index.html"}, {"Tubs", "../../index.html#tubs"}}
	pot := samplePots()[2]
	pot.Dimensions, pot.Href = true, "pots/blue-tub/index.html"
	rows := samplePots()
	for i := range rows {
		rows[i].Href = "pots/" + data.Slug(rows[i].Name) + "/index.html"
	}
	return map[string]Page{
		"index": page("", "Tanglewick Court potting bench", "", FrontPage{
			Title: "Tanglewick Court potting bench", Intro: "<p>Eighteen containers, one bench, and what we have learnt about filling them. Every number here can be opened to its working and its source.</p>",
			Season: []Season{{"Late March", "Empty the tubs, screen the compost", "", "03-20", "04-05"}, {"12 to 20 April", "Renew the tubs: two weeks before planting", "recipes/spring-tubs/index.html", "04-12", "04-20"}, {"All summer", "Feed once a fortnight", "", "06-01", "05-31"}},
			Topics: topics, Newest: items,
		}),
		"notes/tubs/spring/index": note,
		"notes/index":             page("../", "Notes", "Notes", NotesPage{Topics: topics}),
		"recipes/index":           page("../", "Recipes", "Recipes", RecipesPage{Recipes: []RecipeItem{{"Spring renewal for fruiting crops", "spring-tubs/index.html", "Slow nitrogen, gentle potash.", "60 L", "pepper, 2 plants", []Link{{"10 L", "spring-tubs/index.html#for-10-l"}, {"20 L", "spring-tubs/index.html#for-20-l"}, {"Blue tub", "spring-tubs/index.html#for-blue-tub"}}, used}, {Name: "Leafy crops", Href: "leafy/index.html", For: "20 L"}}}),
		"recipes/spring/index":    recipe,
		"pots/index": page("../", "Pots", "Pots", PotsPage{
			Parts: printSample(t, l, view.Doc{Parts: []view.Part{view.Pots{Items: rows}}}, Context{Root: "../", BlockID: "pots", Heading: 2}),
			Pots:  []PotItem{{Name: "Blue tub", Href: "blue-tub/index.html", Volume: "28 L", Shape: "round, 38 cm across the top, 34 cm deep", Place: "south wall"}, {Name: "Half barrel", Href: "half-barrel/index.html", Volume: "100 L", Shape: "round", Count: 2}},
			Gone:  []PotItem{{Name: "Cracked pot", Href: "cracked-pot/index.html", Volume: "12 L", Shape: "round", Gone: "2026-10-30"}},
		}),
		"pots/blue-tub/index": page("../../", "Blue tub", "Pots", PotPage{
			Title: "Blue tub", Place: "south wall", Count: 2,
			Parts: printSample(t, l, view.Doc{Parts: []view.Part{view.Pots{Items: []view.Pot{pot}}}}, Context{Root: "../../", BlockID: "blue-tub", Heading: 2}),
		}),
		"cupboard/index": page("../", "Cupboard", "Cupboard", CupboardPage{Amendments: []Amendment{
			{ID: "kelp-meal", Name: "Kelp meal", Form: "dry meal", Analysis: []Nutrient{{"N", "1 %"}, {"P2O5", "0.5 %"}, {"K2O", "2.5 %"}, {"Ca", "1.8 %"}, {"Mg", "0.5 to 0.9 %"}, {"S", "not known"}}, Density: "0.64 g/mL, 152 g a level US cup", Sources: []string{"cup-weights-2020"}, Prices: []string{"2 kg for 14.00 USD", "500 g for 5.50 USD"}, Stock: "600 g", Cautions: sampleCautions()[:1], UsedBy: used},
			{ID: "gypsum", Name: "Gypsum", Density: "0.9 to 1.1 g/mL"},
		}}),
		"sources/index": page("../", "Sources", "Sources", SourcesPage{Sources: []Source{
			{Key: "court-need-2019", Title: "Nutrient need of courtyard crops", Publisher: "Tanglewick growers", Year: 2019, Number: "Sheet 4", URL: "https://bench.example/need", Confidence: sources.Checked, UsedBy: used},
			{Key: "dust-notice-1989", Title: "Notice on dust", URL: "bench.example/dust", Confidence: sources.FromMemory},
		}}),
		"search/index": page("../", "Search", "Search", SearchPage{Topics: topics, Lists: []SearchList{{"Pots", []Link{{"Blue tub", "../pots/blue-tub/index.html"}}}, {Name: "Plans"}}}),
		"whole/index": page("../", "The whole handbook", "Notes", WholePage{Title: "Tanglewick Court potting bench", Author: "The courtyard growers", Notes: []WholeNote{
			{ID: "notes.tubs", Title: "Tubs", Summary: "How tubs are renewed.", Written: "2027-03-02", Picture: samplePicture(), Body: "<h3 id=\"notes.tubs_mix\">Mix</h3>\n"},
			{ID: "notes.heap", Title: "The heap", Revised: "2027-04-02", Body: "<p>Forty litres.</p>\n"},
		}}),
		"plain/index": page("../", "How a recipe is computed", "", PlainPage{Title: "How a recipe is computed", HTML: "<p>By volume.</p>"}),
		"404":         page("/bench/", "Nothing at this address", "", NotFoundPage{}),
	}
}
