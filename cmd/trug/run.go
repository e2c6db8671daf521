package main

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/alecthomas/kong"
	"golang.org/x/term"

	"trug/builder"
	"trug/calcblocks"
	"trug/calcblocks/kit/diag"
)

// A Console is where the program writes and what it knows of the world.
type Console struct {
	Out, Err io.Writer
	Lively   bool // Err is a terminal: colours and a progress line
	Now      func() time.Time
	Memory   func() *builder.Memory // of builds; nil = none
}

// Terminal returns the console of a real run. Colours follow the terminal and NO_COLOR.
func Terminal(out, err *os.File, now func() time.Time) Console {
	_, plain := os.LookupEnv("NO_COLOR")
	return Console{out, err, term.IsTerminal(int(err.Fd())) && !plain, now, memory}
}

// memory is in the folder that the system keeps for such things. Where there is none, or the program cannot read
// itself, nothing is remembered.
func memory() *builder.Memory {
	dir, err := os.UserCacheDir()
	if err != nil {
		return nil
	}
	self, err := os.Executable()
	if err != nil {
		return nil
	}
	program, err := os.ReadFile(self)
	if err != nil {
		return nil
	}
	return &builder.Memory{Dir: filepath.Join(dir, "trug"), Program: fmt.Sprintf("%x", sha256.Sum256(program))}
}

// Exit codes: faults in the content, and wrong usage.
const (
	exitFaults = 1
	exitUsage  = 2
)

// errFaults says that the content has faults, which were printed.
var errFaults = errors.New("faults")

// usageError is what a command line asks for and the program does not have.
type usageError struct{ text, hint string }

func (e usageError) Error() string { return e.text }

type folders struct {
	In  string `help:"Folder of the notes." default:"content" placeholder:"DIR"`
	Out string `help:"Folder of the site." default:"public" placeholder:"DIR"`
}

// commandLine is the verbs and their options.
type commandLine struct {
	Start     startVerb     `cmd:"" help:"Write a small new handbook to change into your own."`
	Build     buildVerb     `cmd:"" help:"Compute every block and publish the site."`
	Watch     watchVerb     `cmd:"" help:"Build on every change, and show the site while you write."`
	Proof     proofVerb     `cmd:"" help:"Read the proofs: print faults, write nothing."`
	Show      showVerb      `cmd:"" help:"Show one computed block."`
	Changes   changesVerb   `cmd:"" help:"Show which numbers differ from the history, and why."`
	Catalogue catalogueVerb `cmd:"" help:"Look up amendments, crops, containers and sources."`
}

const description = `Trug turns a folder of growing notes into a site whose numbers are right for every container.

Examples:
  trug start bench                                a new handbook in bench/content/
  trug build                                      content/ becomes public/
  trug build --in notes --out site
  trug watch                                      build on every change; the open page follows
  trug proof --as json                            faults for an editor
  trug show spring-tubs --for "20 L"              one recipe for one container
  trug show spring-tubs --with langbeinite --as working
  trug show --help recipe                         what a kind computes, and from what
  trug catalogue amendments kelp-meal`

// Run runs one command line and returns the exit code: 0, 1 for faults in the content, 2 for wrong
// usage.
func Run(ctx context.Context, args []string, c Console) int {
	err := run(ctx, args, c)
	var usage usageError
	var parse *kong.ParseError
	var refusal interface{ Diagnostic() diag.Diagnostic }
	switch {
	case err == nil:
		return 0
	case errors.Is(err, errFaults):
		return exitFaults
	case errors.Is(err, builder.ErrStopped):
		return exitStopped
	case errors.As(err, &usage):
		fmt.Fprintf(c.Err, "trug: %s\n", usage.text)
		if usage.hint != "" {
			fmt.Fprintf(c.Err, "  hint: %s\n", usage.hint)
		}
		return exitUsage
	case errors.As(err, &refusal):
		diag.Print(c.Err, []diag.Diagnostic{refusal.Diagnostic()}, c.style())
		return exitUsage
	case errors.As(err, &parse):
		fmt.Fprintf(c.Err, "trug: %s\n  hint: %s\n", err, usageHint(args))
		return exitUsage
	}
	fmt.Fprintf(c.Err, "trug: %s\n", err)
	if errors.Is(err, builder.ErrNoContent) {
		fmt.Fprint(c.Err, "  hint: go to the folder of your handbook, or make a new one: trug start bench\n")
	}
	return exitFaults
}

// usageHint says what to write where a verb lacks its word; elsewhere the help tells.
func usageHint(args []string) string {
	if len(args) == 1 && args[0] == "start" {
		return "name the folder to be made: trug start bench"
	}
	return "see trug --help"
}

// helpAsked is how the help option leaves the parser: kong calls its exit function there.
type helpAsked struct{}

// ownWords puts our words in the place of the library's.
func ownWords(k *kong.Kong) error {
	k.Model.HelpFlag.Help = "Print this help; behind a verb, that of the verb."
	k.Model.HelpFlag = nil // it stays an option, without the library's line on it below the verbs
	return nil
}

func run(ctx context.Context, args []string, c Console) (err error) {
	if text, ok := kindHelp(args); ok {
		fmt.Fprint(c.Out, text)
		return nil
	}
	var line commandLine
	parser, err := kong.New(&line, kong.Name("trug"), kong.Description(description), kong.Writers(c.Out, c.Err),
		kong.Exit(func(int) { panic(helpAsked{}) }), kong.ConfigureHelp(kong.HelpOptions{Compact: true, WrapUpperBound: 100}), kong.PostBuild(ownWords))
	if err != nil {
		return err
	}
	defer func() {
		if r := recover(); r != nil {
			if _, help := r.(helpAsked); !help {
				panic(r)
			}
			err = nil
		}
	}()
	if len(args) == 0 {
		args = []string{"--help"}
	}
	parsed, err := parser.Parse(args)
	if err != nil {
		return err
	}
	parsed.BindTo(ctx, (*context.Context)(nil))
	return parsed.Run(c)
}

// kindHelp returns the doc of a kind, or of the dress, for "show --help KIND".
func kindHelp(args []string) (string, bool) {
	if len(args) != 3 || args[0] != "show" || !slices.Contains(args, "--help") {
		return "", false
	}
	for _, name := range args[1:] {
		if kind, ok := calcblocks.Named(name); ok {
			return strings.TrimSuffix(kind.Doc, "\n") + "\n", true
		}
		if name == "dress" {
			return builder.DressDoc(), true
		}
	}
	return "", false
}
