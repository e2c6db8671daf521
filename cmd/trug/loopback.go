package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"
)

// loopback is the address that no other machine reaches.
const loopback = "127.0.0.1"

// limits say how long a reader may take: to ask, for one answer, and with nothing to say. One who takes longer is
// let go, so that none holds what others need.
type limits struct{ asking, answer, silence time.Duration }

var usual = limits{asking: 10 * time.Second, answer: time.Minute, silence: 2 * time.Minute}

// A server serves on the loopback address.
type server struct {
	http    *http.Server
	address string // with its port
	taken   error  // why the port that was asked for could not be had; nil when it could
	stop    context.CancelFunc
	ended   chan error
}

// listen serves on a port, or on a free one when that one is taken. failed is called when serving ends by itself.
// The caller closes the server.
func listen(port uint16, pages http.Handler, failed func()) (*server, error) {
	return usual.listen(port, pages, failed)
}

func (most limits) listen(port uint16, pages http.Handler, failed func()) (*server, error) {
	l, taken := net.Listen("tcp4", net.JoinHostPort(loopback, strconv.Itoa(int(port))))
	if taken != nil {
		var err error
		if l, err = net.Listen("tcp4", net.JoinHostPort(loopback, "0")); err != nil {
			return nil, fmt.Errorf("cannot serve on %s: %w", loopback, err)
		}
	}
	ctx, stop := context.WithCancel(context.Background())
	s := &server{address: l.Addr().String(), taken: innermost(taken), stop: stop, ended: make(chan error, 1)}
	s.http = &http.Server{
		Handler:     ownHosts(l.Addr().(*net.TCPAddr).Port, pages),
		BaseContext: func(net.Listener) context.Context { return ctx },
		ReadTimeout: most.asking, WriteTimeout: most.answer, IdleTimeout: most.silence,
	}
	go func() {
		err := s.http.Serve(l)
		if errors.Is(err, http.ErrServerClosed) {
			err = nil
		}
		s.ended <- err
		failed()
	}()
	return s, nil
}

// close ends every answer that is still being given and returns when nothing is served any more.
func (s *server) close() error {
	s.stop()
	ctx, cancel := context.WithTimeout(context.Background(), time.Second)
	defer cancel()
	if s.http.Shutdown(ctx) != nil {
		_ = s.http.Close() // a reader that does not let go
	}
	return <-s.ended
}

// innermost leaves out what the network packages wrap round the reason.
func innermost(err error) error {
	for inner := err; inner != nil; inner = errors.Unwrap(inner) {
		err = inner
	}
	return err
}

// ownHosts answers only requests that name this machine as their host. A page elsewhere whose name has been made
// to point here is refused: it could read the handbook otherwise.
func ownHosts(port int, pages http.Handler) http.Handler {
	var ours []string
	for _, name := range []string{loopback, "localhost", "[::1]"} {
		ours = append(ours, name+":"+strconv.Itoa(port))
		if port == 80 {
			ours = append(ours, name)
		}
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !slices.Contains(ours, strings.ToLower(r.Host)) {
			http.Error(w, "this address serves this machine alone", http.StatusForbidden)
			return
		}
		pages.ServeHTTP(w, r)
	})
}
