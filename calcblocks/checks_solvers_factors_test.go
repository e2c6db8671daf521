package calcblocks_test

import (
	"strings"

	"trug/calcblocks/kit/elements"
)

var factorSolvers = []solver{
	{"factors", "mass", "mass", convertMass},
	{"factors", "mass", "cl k", partsOf("mass", "K", "Cl")},
	{"factors", "mass", "ca s", partsOf("mass", "Ca", "S")},
	{"factors", "compound", "cce", func(q question) answers {
		return answers{"cce": number(elements.LimeEquivalent(q.text("compound")) / 100)}
	}},
	{"factors", "compound", "ca", contentOf("Ca")},
	{"factors", "compound", "ca mg", contentOf("Ca", "Mg")},
	{"factors", "compound", "ca s", contentOf("Ca", "S")},
	{"factors", "compound", "k2o", contentOf("K2O")},
	{"factors", "compound", "mg s", contentOf("Mg", "S")},
	{"factors", "ca k mg p", "ca k mg p", roundTrip},
	{"factors", "element oxide", "element_from_oxide oxide_from_element", func(q question) answers {
		return answers{"oxide_from_element": converted(q, "element", "oxide_from_element"), "element_from_oxide": converted(q, "oxide", "element_from_oxide")}
	}},
	{"factors", "salt sodium", "salt_from_sodium sodium_from_salt", func(q question) answers {
		return answers{"salt_from_sodium": converted(q, "sodium", "salt_from_sodium"), "sodium_from_salt": converted(q, "salt", "sodium_from_salt")}
	}},
	{"factors", "k", "k2o", func(q question) answers { return answers{"k2o": number(q.plain("k") * elements.Convert("K", "K2O"))} }},
	{"factors", "p", "p2o5", func(q question) answers { return answers{"p2o5": number(q.plain("p") * elements.Convert("P", "P2O5"))} }},
	{"factors", "sulfate", "s", func(q question) answers {
		return answers{"s": number(q.plain("sulfate") * elements.Convert(q.of("sulfate"), "S"))}
	}},
	{"factors", "carbonates", "caco3", same("carbonates", "caco3")},
	{"factors", "sulfur", "caco3", func(q question) answers {
		return answers{"caco3": in("mass", -q.some("sulfur")*elements.LimeEquivalent(q.of("sulfur"))/100)}
	}},
	{"factors", "cce recommended", "amount", func(q question) answers {
		return answers{"amount": in("mass", bringing(q.some("recommended"), q.plain("cce")))}
	}},
	{"factors", "material neutralising_value", "cao", func(q question) answers {
		return answers{"cao": in("mass", contained(q.some("material"), q.plain("neutralising_value")))}
	}},
	{"factors", "ash_cce lime lime_cce", "ash caco3", func(q question) answers {
		caco3 := contained(q.some("lime"), q.plain("lime_cce"))
		return answers{"caco3": in("mass", caco3), "ash": in("mass", bringing(caco3, q.plain("ash_cce")))}
	}},
}

// converted turns the mass of an input into that of the substance that an output's unit names.
func converted(q question, input, output string) answer {
	wanted := strings.ReplaceAll(q.wants(output), "-equivalent", " equivalent")
	return in("mass", q.some(input)*elements.Convert(q.of(input), wanted))
}

func convertMass(q question) answers { return answers{"mass": converted(q, "mass", "mass")} }

// partsOf answers the mass of elements in the mass of a compound.
func partsOf(input string, parts ...string) func(question) answers {
	return func(q question) answers {
		out := answers{}
		for _, part := range parts {
			out[strings.ToLower(part)] = in("mass", q.some(input)*elements.Convert(q.of(input), part))
		}
		return out
	}
}

// contentOf answers the share of elements or oxides in a pure compound.
func contentOf(parts ...string) func(question) answers {
	return func(q question) answers {
		out := answers{}
		for _, part := range parts {
			out[strings.ToLower(part)] = number(elements.Convert(q.text("compound"), part))
		}
		return out
	}
}

// roundTrip turns elements into oxides and back.
func roundTrip(q question) answers {
	out := answers{}
	for element, oxide := range map[string]string{"P": "P2O5", "K": "K2O", "Ca": "CaO", "Mg": "MgO"} {
		name := strings.ToLower(element)
		out[name] = in("mass", q.some(name)*elements.Convert(element, oxide)*elements.Convert(oxide, element))
	}
	return out
}
