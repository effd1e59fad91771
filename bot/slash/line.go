package slash

import "strings"

// Pair is an option's name and its value.
type Pair struct{ Name, Value string }

// Line writes a command as somebody would type it, each value in quotes. Parse
// reads the same values back, but for what Quote changes.
func Line(name string, pairs ...Pair) string {
	var line strings.Builder
	line.WriteString("/" + name)
	for _, p := range pairs {
		line.WriteString(" " + p.Name + ":" + Quote(p.Value))
	}
	return line.String()
}

// Quote puts a value into quotes, so that nothing in it passes for another
// option; the double quotes that it holds become apostrophes.
func Quote(value string) string {
	return `"` + noQuotes.Replace(value) + `"`
}

var noQuotes = strings.NewReplacer(`"`, "'", "“", "'", "”", "'")
