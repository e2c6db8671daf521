package reference

// sectionOf returns what the figures of a section of a fact file are measured on. A deeper section comes
// before the one that holds it.
func sectionOf(file string, names []string) measure {
	path, out := file, measure{}
	for _, name := range names {
		path += "/" + name
		if found, ok := sections[path]; ok {
			out = found
		}
	}
	return out
}

// sections gives each section of the fact files a basis, and a unit where neither the file writes one nor a
// key names it.
var sections = map[string]measure{
	"cautions/metal_limits":                               {"mg/kg", "fertiliser, for each percent of the nutrient"},
	"cautions/metal_limits/cfr_503_table_3_mg_per_kg_dry": {"mg/kg", "dry weight"},
	"cautions/lead_in_produce":                            {"%", "samples from city gardens"},
	"cautions/lifting_equation":                           {"", "one lift under ideal conditions"},
	"cautions/herbicide_bioassay":                         {"count", "one bioassay"},
	"cautions/herbicide_bioassay/mix_parts":               {"parts", "volume"},
	"cautions/herbicide_bioassay/other_mix_parts":         {"parts", "volume"},
	"families/heat_treatment":                             {"", "a small lot of moist mix"},

	"judging/sme_classes":                               {"", "saturated media extract of a soilless mix"},
	"judging/sme_normal_bands":                          {"", "saturated media extract of a soilless mix"},
	"judging/sme_sodium_chloride":                       {"", "saturated media extract of a soilless mix"},
	"judging/sme_share_of_salts_percent":                {"%", "total soluble salts of the saturated media extract"},
	"judging/ec_limits_sme":                             {"", "saturated media extract of a soilless mix"},
	"judging/ec_limit_seedlings_sme":                    {"", "saturated media extract of a soilless mix"},
	"judging/ec_classes_by_method":                      {"", "the extract that the column names"},
	"judging/ec_conversion":                             {"", "EC by one extract to EC by another"},
	"judging/salinity_use":                              {"", "EC of the saturated media extract"},
	"judging/salinity_table":                            {"", "EC of the saturated paste, mineral soil with sodium chloride"},
	"judging/ph_ranges":                                 {"pH", "the medium that the row names"},
	"judging/ph_pick":                                   {"pH", "used, compost-rich mix"},
	"judging/ph_mineral_to_soilless_shift":              {"pH", "peat or bark mix against mineral soil"},
	"judging/peat_ph_as_sold":                           {"pH", "peat as sold"},
	"judging/ph_lime_compost_grid":                      {"", "peat-based substrate, compost by volume"},
	"judging/lime_rates":                                {"", "litre of mix"},
	"judging/lime_rates/effect_weeks":                   {"weeks", "after mixing in"},
	"judging/lime_particle_effect_day7":                 {"", "calcitic lime by particle size, day 7"},
	"judging/liming_value_percent_caco3":                {"%", "pure CaCO3, by weight"},
	"judging/wood_ash":                                  {"", "litre of mix or square metre of surface, as the unit says"},
	"judging/wood_ash/cap":                              {"g/L a year", "litre of mix or square metre of surface, as the unit says"},
	"judging/compost_limits":                            {"", "compost as a part of a mix, by volume"},
	"judging/compost_limits/c_to_n":                     {"1", "carbon to total nitrogen, by weight"},
	"judging/compost_limits/content_fresh_kg_per_t":     {"kg/t", "fresh weight"},
	"judging/compost_limits/maturity":                   {"1", "compost by the maturity index"},
	"judging/compost_limits/normally_found":             {"", "finished compost"},
	"judging/compost_limits/wanted":                     {"", "compost by the extract that the row names"},
	"judging/nitrogen_targets":                          {"", "litre of mix, plant-available N over the season"},
	"judging/nitrogen_targets/recovery":                 {"1", "plant-available N that the crop takes up"},
	"judging/nitrogen_targets/published_rates":          {"", "litre of mix, N as the row says"},
	"judging/single_dose_n_cap":                         {"", "mix, fast organic N at one time"},
	"judging/pan_rules":                                 {"1", "total nitrogen"},
	"judging/pan_rules/by_n_percent":                    {"1", "total nitrogen, by percent N in dry matter"},
	"judging/incubation_classes":                        {"", "total nitrogen, net mineral after 84 days at 23 C"},
	"judging/first_season_manure_factors":               {"", "the total of the nutrient, first season"},
	"judging/release_model/meals":                       {"1", "organic nitrogen"},
	"judging/release_model/slow_pool":                   {"1/week", "mineralisable nitrogen of soil, first order"},
	"judging/p_k_availability_first_season":             {"", "the total of the nutrient, first season"},
	"judging/cation_balance":                            {"1", "the two nutrients by weight"},
	"judging/cation_balance/k2o_single_dose_max":        {"", "litre of mix, soluble K2O at one time"},
	"judging/cation_balance/k2o_season_max":             {"", "litre of mix, soluble K2O in a season"},
	"judging/cation_balance/sulfate_of_potash_ec":       {"", "gram of sulfate of potash per litre of mix, in the saturated media extract"},
	"judging/chloride":                                  {"", "soil water, saturated paste"},
	"judging/boron":                                     {"", "soil water"},
	"judging/boron/sme_mg_l":                            {"", "saturated media extract of a soilless mix"},
	"judging/boron/deficiency_hot_water_mg_per_l_below": {"", "hot-water extract"},
	"judging/phosphorus":                                {"1", "what the crop takes up"},
	"judging/phosphorus/no_p_meal_if":                   {"", "volume of the mix, or its saturated media extract"},
	"judging/need_ratios":                               {"1", "oxide to nitrogen, by weight, uptake of a fruiting crop"},
	"judging/leaching":                                  {"1", "water applied"},
	"judging/leaching/flush":                            {"1", "volume of the pot"},
	"judging/leaching/soil_depth_of_water":              {"", "a foot of soil under so much water"},
	"judging/leaching/wash_out":                         {"%", "salts in the pot"},

	"volumes/picks":                           {"", "the topic of the row"},
	"volumes/length":                          {"cm", "definition of the unit"},
	"volumes/volume_units_ml":                 {"mL", "definition of the unit"},
	"volumes/seven_figure_m3":                 {"m3", "definition of the unit, seven figures"},
	"volumes/volume_ratios":                   {"1", "definitions of the two units"},
	"volumes/measure_sets":                    {"mL", "definition of the set"},
	"volumes/mass_units_g":                    {"g", "definition of the unit"},
	"volumes/rate_conversions":                {"1", "the unit named from, to the unit named to"},
	"volumes/atomic_weights":                  {"g/mol", "the element"},
	"volumes/element_factors":                 {"1", "weight of the one named from, to weight of the one named to"},
	"volumes/pure_compounds":                  {"%", "weight of the pure compound"},
	"volumes/nursery_classes":                 {"", "the span of the class"},
	"volumes/fabric_bags":                     {"", "the bag full to the brim"},
	"volumes/round_pots_by_diameter":          {"US gal", "a round pot of that top diameter"},
	"volumes/common_containers":               {"in", "inside"},
	"volumes/headspace":                       {"", "below the rim"},
	"volumes/minimum_pot_diameter_in":         {"in", "top diameter of the pot"},
	"volumes/bags":                            {"", "as declared on the bag, loose"},
	"volumes/mix_components":                  {"", "volume of the component"},
	"volumes/watered_weight_kg_per_l":         {"kg/L", "litre of mix, watered"},
	"volumes/packing":                         {"1", "firmed pot litres to loose litres"},
	"volumes/blending":                        {"1", "summed volumes of the parts"},
	"volumes/settling_percent_of_fill_height": {"%", "height of the fill, in a season"},
	"volumes/footprint_load/constant":         {"lb/ft2 per in of kg/L", "footprint of the pot"},
	"volumes/footprint_load":                  {"", "footprint of the pot"},
}
