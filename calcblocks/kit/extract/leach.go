package extract

// LeachingRequirement returns the share of the water that has to drain for a crop to stand at an EC of the
// saturated paste, both mS/cm: ECw / (5 ECe - ECw) (FAO 29, from memory). ok is false where the water is so
// salty that no share is enough.
func LeachingRequirement(water, paste float64) (share float64, ok bool) {
	if 5*paste <= water {
		return 0, false
	}
	share = water / (5*paste - water)
	return share, share < 1
}

// Applied returns the water to give for a demand when a share of it drains: demand / (1 - share) (San Diego
// State University, notes).
func Applied(demand, share float64) float64 { return demand / (1 - share) }

// LeachingFraction returns the share of the applied water that drained.
func LeachingFraction(drained, applied float64) float64 { return drained / applied }

// Flush returns the water that washes salt from a pot: times its volume (University of California: twice).
func Flush(pot, times float64) float64 { return pot * times }
