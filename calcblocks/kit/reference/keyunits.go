package reference

import "strings"

// keyUnits gives the unit that words in a key of the fact files name; the first that a key holds counts, so
// that longer ones stand first. "1" is a plain ratio.
var keyUnits = []struct{ words, unit string }{
	{"share_in", "1"}, // not inches
	{"rounded_in", "%"},
	{"theta", "kg/kg"},
	{"ph_at", "pH"},
	{"ph_per_tenth", "pH"},
	{"ph_rise", "pH"},
	{"ppm_per_ms_cm", "ppm per mS/cm"},
	{"mg_per_l_factor", "mg/L per mol/m3"},
	{"mg_per_g_om_day", "mg/g a day"},
	{"kg_caco3_per_kg_s", "kg/kg"},
	{"quick_ratios", "1"},
	{"sme_per_1to5_by_volume", "1"},
	{"sme_ratios_by_weight", "1"},
	{"rate_conversions", "1"},
	{"g_per_l_per_ph", "g/L per pH"},
	{"g_per_l_year", "g/L a year"},
	{"g_per_m2_year", "g/m2 a year"},
	{"g_n_per_l_month", "g/L a month"},
	{"g_n_per_l", "g/L"},
	{"g_n_per_kg_substrate", "g/kg"},
	{"mg_n_per_l_water", "mg/L"},
	{"mg_per_kg", "mg/kg"},
	{"mg_per_l", "mg/L"},
	{"mg_l", "mg/L"},
	{"kg_per_l", "kg/L"},
	{"kg_per_t", "kg/t"},
	{"g_per_ml", "g/mL"},
	{"g_per_l", "g/L"},
	{"mol_m3", "mol/m3"},
	{"lb_per_1000_ft2", "lb/1000 ft2"},
	{"lb_per_ft2", "lb/ft2"},
	{"k_per_week", "1/week"},
	{"ds_m", "dS/m"},
	{"kpa", "kPa"},
	{"litres", "L"},
	{"ml", "mL"},
	{"m3", "m3"},
	{"gal", "US gal"},
	{"dry_qt", "dry qt"},
	{"dry_quarts", "dry qt"},
	{"cubic_inches", "in3"},
	{"cubic_feet", "ft3"},
	{"ft3", "ft3"},
	{"cubic_yards", "yd3"},
	{"inches", "in"},
	{"in", "in"},
	{"cm", "cm"},
	{"mm", "mm"},
	{"temp_c", "C"},
	{"below_c", "C"},
	{"weeks", "weeks"},
	{"months", "months"},
	{"percent", "%"},
	{"share", "1"},
	{"ratio", "1"},
	{"fraction", "1"},
	{"factor", "1"},
	{"c_to_n", "1"},
	{"r_squared", "1"},
	{"q10", "1"},
	{"g", "g"},
	{"kg", "kg"},
	{"lb", "lb"},
	{"ph", "pH"},
	{"ec", "mS/cm"},
}

// unitInKey returns the unit that a key names in whole words, or "".
func unitInKey(key string) string {
	key = "_" + key + "_"
	for _, k := range keyUnits {
		if strings.Contains(key, "_"+k.words+"_") {
			return k.unit
		}
	}
	return ""
}
