package discord_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"rungbook/bot/discord"
)

// Pieces fit, lose nothing but line ends and blanks at the cuts, and cut no
// line that fits by itself.
func TestSplitKeepsLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const most = 40
		lines := rapid.SliceOfN(rapid.StringOfN(rapid.RuneFrom([]rune("ab ✓é😀")), 0, 60, -1), 0, 8).Draw(t, "lines")
		text := strings.Join(lines, "\n")
		pieces := discord.Split(text, most)
		for _, piece := range pieces {
			if discord.Width(piece) > most || !utf8.ValidString(piece) {
				t.Fatalf("%q is %d wide", piece, discord.Width(piece))
			}
		}
		squeeze := strings.NewReplacer("\n", "", " ", "")
		if got := squeeze.Replace(strings.Join(pieces, "")); got != squeeze.Replace(text) {
			t.Fatalf("%q became %q", text, got)
		}
		for _, line := range lines {
			if line == "" || discord.Width(line) > most {
				continue
			}
			found := false
			for _, piece := range pieces {
				for _, kept := range strings.Split(piece, "\n") {
					found = found || kept == line
				}
			}
			if !found {
				t.Fatalf("the line %q was cut: %q", line, pieces)
			}
		}
	})
}
