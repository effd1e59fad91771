package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// silent are the packages that say nothing to people themselves: what is read
// stands in bot/words, and what a doubt says in parser/explain.
var silent = []string{
	"bot", "bot/discord", "bot/outbox", "bot/priority", "bot/rehearsal", "bot/room", "bot/slash", "scheduler", "store",
}

// noSpeech are texts of those packages that look like speech and are not.
var noSpeech = map[string]string{
	"Bot ":                     "the scheme of the platform's Authorization header",
	"DiscordBot (rungbook, 1)": "the User-Agent that the platform asks for",
}

// TestTextsStandInWords finds texts for people outside bot/words.
func TestTextsStandInWords(t *testing.T) {
	met := map[string]bool{}
	for _, dir := range silent {
		paths, err := filepath.Glob(dir + "/*.go")
		if err != nil {
			t.Fatal(err)
		}
		paths = slices.DeleteFunc(paths, func(path string) bool { return strings.HasSuffix(path, "_test.go") })
		if len(paths) == 0 {
			t.Errorf("no files in %s", dir)
		}
		for _, path := range paths {
			for _, found := range speech(t, path, nil) {
				met[found.text] = true
				if noSpeech[found.text] == "" {
					t.Errorf("%s: %q is for bot/words", found.at, found.text)
				}
			}
		}
	}
	for text, why := range noSpeech {
		if !met[text] {
			t.Errorf("%q, %s, stands nowhere any more", text, why)
		}
	}
}

// spoken is a text that looks like speech, and where it stands.
type spoken struct {
	at   token.Position
	text string
}

// speech lists what looks like speech in a Go file; source is its text, nil to
// read it.
func speech(t *testing.T, path string, source any) (found []spoken) {
	t.Helper()
	files := token.NewFileSet()
	file, err := parser.ParseFile(files, path, source, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	ast.Inspect(file, func(node ast.Node) bool {
		if literal, ok := node.(*ast.BasicLit); ok && literal.Kind == token.STRING {
			text, err := strconv.Unquote(literal.Value)
			if err != nil {
				t.Fatal(err)
			}
			if speaks(text) {
				found = append(found, spoken{files.Position(literal.Pos()), text})
			}
		}
		return true
	})
	return found
}

var (
	begins   = regexp.MustCompile(`^\s*\p{Lu}`)
	ends     = regexp.MustCompile(`[\p{L}\p{N}”"):][.?!]["”]?(\s|$)`)
	quotes   = regexp.MustCompile(`[“”…]`)
	capitals = regexp.MustCompile(`^\s*\p{Lu}{2,}\b`) // SELECT, PRAGMA, POST
	patterns = regexp.MustCompile(`[\\^]|\)\?`)       // of a regular expression
)

// speaks reports whether a text looks like one for people: several words that begin
// with a capital, end a sentence or stand in the quotes that only people read. Words
// of SQL and HTTP begin in capitals throughout, and errors and log lines in none.
func speaks(text string) bool {
	if !strings.Contains(text, " ") || capitals.MatchString(text) || patterns.MatchString(text) {
		return false
	}
	return begins.MatchString(text) || ends.MatchString(text) || quotes.MatchString(text)
}

// TestSpeechIsFound gives the test above what it must find, and what it must not.
func TestSpeechIsFound(t *testing.T) {
	for _, text := range []string{
		"You are not paused.", "%s is still to come.", "/%s needs %s:. %s", "Next session", "Is that of both days?", "was “%s” meant",
		" may not have arrived: I cannot read it. Allow me to.", "I read %s", "A %s for %s",
	} {
		source := fmt.Sprintf("package bot\n\nfunc f() string { return %q }\n", text)
		found := speech(t, "some.go", source)
		if len(found) != 1 || found[0].text != text || found[0].at.String() != "some.go:3:26" {
			t.Errorf("%q is not found: %v", text, found)
		}
	}
	for _, text := range []string{
		"read day %q: want YYYY-MM-DD", "step", "coach witness", "SELECT 1 FROM log WHERE id = ?", " AND cause = ?", "POST /webhooks",
		`(Z|[ \t]*[+-]\d{2}(?::?\d{2})?)?`, "Europe/Lisbon", "2 January", "decode post: %w", "a post will not be sent",
	} {
		if speaks(text) {
			t.Errorf("%q is taken for speech", text)
		}
	}
}
