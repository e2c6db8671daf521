package pothistory

// A Scope is what a summary shows: some pots, in the growing years from one to another. What came before counts for what
// is summed up over the years. Without years it shows all.
type Scope struct {
	Pots     []string
	From, To int
}

func (s Scope) holds(year int) bool { return s.From == 0 || s.From <= year && year <= s.To }
