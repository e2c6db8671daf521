package main

import (
	"encoding/json"
	"fmt"
	"net/http"
	"sync"
	"time"

	"trug/builder"
	"trug/calcblocks/kit/diag"
)

// news is what came of the last build, for the pages that are open.
type news struct {
	mutex sync.Mutex
	run   int64
	built int // how often the site has changed in this run
	last  []told
	stale chan struct{} // closed when there is something newer
}

// A told fault is one as a page shows it.
type told struct {
	Place   string   `json:"place"`
	Message string   `json:"message"`
	Line    string   `json:"line"` // of the source, "" for none
	Hints   []string `json:"hints"`
}

func newNews(run int64) news { return news{run: run, stale: make(chan struct{})} }

// edition names the site as it is now. A page of another edition is old.
func (n *news) edition() string {
	n.mutex.Lock()
	defer n.mutex.Unlock()
	return n.name()
}

func (n *news) name() string { return fmt.Sprintf("%x-%d", n.run, n.built) }

// tell takes in what a build found and did.
func (n *news) tell(report builder.Report) {
	var faults []told
	for _, d := range report.Diagnostics {
		if d.Severity == diag.Fault {
			faults = append(faults, told{place(d.At), d.Message, d.At.File.Line(d.At.Line), d.Hints})
		}
	}
	n.mutex.Lock()
	defer n.mutex.Unlock()
	if report.Published.Written+report.Published.Removed > 0 {
		n.built++
	}
	n.last = faults
	close(n.stale)
	n.stale = make(chan struct{})
}

func place(at diag.Position) string {
	switch {
	case at.Line == 0:
		return at.Name()
	case at.Column == 0:
		return fmt.Sprintf("%s:%d", at.Name(), at.Line)
	}
	return fmt.Sprintf("%s:%d:%d", at.Name(), at.Line, at.Column)
}

// now returns the news as the page's script reads them, and what is closed when they are old.
func (n *news) now() ([]byte, <-chan struct{}) {
	n.mutex.Lock()
	defer n.mutex.Unlock()
	text, err := json.Marshal(struct {
		Edition string `json:"edition"`
		Faults  []told `json:"faults"`
	}{n.name(), append([]told{}, n.last...)})
	if err != nil {
		panic(err) // texts and numbers can always be written
	}
	return text, n.stale
}

// stream sends the news and each that follows, until the page or the server goes. One who does not take them in
// time is let go; a page asks again by itself.
func (n *news) stream(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "text/event-stream")
	out := http.NewResponseController(w)
	inTime := func() { _ = out.SetWriteDeadline(time.Now().Add(usual.asking)) } // where there are none, nobody waits
	defer inTime()
	for r.Method != http.MethodHead { // who asks for no body waits for none
		inTime()
		text, stale := n.now()
		if _, err := fmt.Fprintf(w, "data: %s\n\n", text); err != nil || out.Flush() != nil {
			return
		}
		select {
		case <-stale:
		case <-r.Context().Done():
			return
		}
	}
}
