package main

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets scripts run the real program as "trug".
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"trug": func() {
			day := func() time.Time { return time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC) }
			os.Exit(Run(context.Background(), os.Args[1:], Terminal(os.Stdout, os.Stderr, day)))
		},
	})
}

// TestScripts runs the real program as its users do; each script says what it shows.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:  "testdata/script",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
	})
}

// exits runs trug and checks its exit code: exits CODE ARGS...
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE ARGS...")
	}
	err := ts.Exec("trug", args[1:]...)
	code := "0"
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		code = strconv.Itoa(exit.ExitCode())
	}
	if code != args[0] {
		ts.Fatalf("trug %s: exit %s, want %s", strings.Join(args[1:], " "), code, args[0])
	}
}
