package builder

import "runtime/debug"

// A build makes much that it lets go of at once: with the usual settings the collector of memory runs for every few
// pages of a small handbook. It may fall behind until this much is taken, and less than the limit is left for what
// has to stay: about fifty kilobytes a note.
const (
	roomPercent = 400
	roomLimit   = 1400 << 20
)

// roomy gives the collector more room and returns how to take it back.
func roomy() (back func()) {
	percent, limit := debug.SetGCPercent(roomPercent), debug.SetMemoryLimit(roomLimit)
	return func() {
		debug.SetGCPercent(percent)
		debug.SetMemoryLimit(limit)
	}
}
