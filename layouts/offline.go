package layouts

import (
	_ "embed"
	"encoding/json"
)

//go:embed offline.js
var offline []byte

// Offline returns the script that keeps files of the site for reading without a signal. The version names the
// contents of the whole site.
func Offline(version string, files []string) ([]byte, error) {
	list, err := json.Marshal(files)
	if err != nil {
		return nil, err
	}
	head := "const version = \"" + version + "\", files = " + string(list) + ";\n"
	return append([]byte(head), offline...), nil
}
