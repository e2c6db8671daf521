// Trug turns a folder of growing notes into a site whose numbers are right for every container.
package main

import (
	"context"
	"os"
	"time"
)

func main() {
	os.Exit(Run(context.Background(), os.Args[1:], Terminal(os.Stdout, os.Stderr, time.Now)))
}
