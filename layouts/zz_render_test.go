package layouts

import ("testing";"os";"path/filepath")

func TestRender(t *testing.T) {
	l, err := New(nil)
	if err != nil { t.Fatal(err) }
	out := "/tmp/look/site"
	for name, p := range samplePages(t, l) {
		b, err := l.Page(p)
		if err != nil { t.Fatal(name, err) }
		f := filepath.Join(out, name+".html")
		os.MkdirAll(filepath.Dir(f), 0o755)
		os.WriteFile(f, b, 0o644)
	}
	for _, a := range l.Assets() { os.WriteFile(filepath.Join(out, a.Name), a.Body, 0o644) }
}
