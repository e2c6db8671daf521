module trug

go 1.26.0

require (
	github.com/alecthomas/chroma/v2 v2.27.0
	github.com/alecthomas/kong v1.17.0
	github.com/arran4/golang-ical v0.3.4
	github.com/chromedp/cdproto v0.159.0
	github.com/chromedp/chromedp v0.23.0
	github.com/fsnotify/fsnotify v1.10.1
	github.com/kovidgoyal/imaging v1.9.0
	github.com/piglig/go-qr v1.1.0
	github.com/rogpeppe/go-internal v1.16.0
	github.com/stretchr/testify v1.12.1
	github.com/yuin/goldmark v1.8.7
	golang.org/x/net v0.62.0
	golang.org/x/sys v0.50.0
	golang.org/x/term v0.48.0
	golang.org/x/text v0.44.0
	gonum.org/v1/gonum v0.17.0
	gopkg.in/yaml.v3 v3.0.1
	pgregory.net/rapid v1.3.0
)

require (
	github.com/dlclark/regexp2/v2 v2.2.1 // indirect
	github.com/go-json-experiment/json v0.0.0-20260213210345-44df1a37e875 // indirect
	github.com/kovidgoyal/go-parallel v1.1.1 // indirect
	github.com/kovidgoyal/go-shm v1.0.0 // indirect
	github.com/rwcarlsen/goexif v0.0.0-20190401172101-9e8deecbddbd // indirect
	go.yaml.in/yaml/v3 v3.0.5 // indirect
	golang.org/x/image v0.47.0 // indirect
	golang.org/x/tools v0.52.0 // indirect
)
