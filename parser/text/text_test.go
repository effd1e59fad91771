package text_test

import (
	"strings"
	"testing"

	"rungbook/parser/text"
)

// show writes tokens as kind and content, a glued one with a plus before it.
func show(message string) string {
	var t text.Text
	t.Scan(message)
	var out []string
	for i := range t.Tokens {
		token := &t.Tokens[i]
		if token.Kind == text.End {
			break
		}
		word := map[text.Kind]string{text.Number: "#", text.Fraction: "½", text.Line: "line", text.Mark: "mark"}[token.Kind]
		switch token.Kind {
		case text.Word:
			word = string(t.Word(i))
		case text.Sign:
			word = string(token.N)
		case text.Number:
			word += message[token.From:token.To]
		}
		if token.Owner {
			word += "'s"
		}
		if token.Glued {
			word = "+" + word
		}
		out = append(out, word)
	}
	return strings.Join(out, " ")
}

func TestScan(t *testing.T) {
	for message, want := range map[string]string{
		"3x30s deep hang":               "#3 +x +#30 +s deep hang",
		"3 × 30″":                       "#3 x #30 +\"",
		"30sx3":                         "#30 +s +x +#3",
		"3*30s":                         "#3 +x +#30 +s",
		"30s*3":                         "#30 +s +x +#3",
		"*28":                           "* +#28",
		"**3x30s**":                     "#3 +x +#30 +s",
		"pull_ups":                      "pull +- +ups",
		"Élévation":                     "elevation",
		"yesterday's":                   "yesterday's",
		"don't":                         "don't",
		"𝟑𝐱𝟑𝟎𝐬 𝐝𝐞𝐞𝐩":                    "#𝟑 +x +#𝟑𝟎 +s deep",
		"٣x٣٠s":                         "#٣ +x +#٣٠ +s",
		"3️⃣x3️⃣0️⃣s":                   "#3️⃣ +x +#3️⃣0️⃣ +s",
		"ѕupport 30ѕ":                   "support #30 +s",
		"nice <3":                       "nice mark",
		"done 8)":                       "done mark",
		"(5, 5, 8)":                     "( +#5 +, #5 +, #8 +)",
		"a <@123> b":                    "a mark b",
		"see https://x.example/3x30 ok": "see mark ok",
		"a\r\nb":                        "a line +b",
		"1½ min":                        "#1 +½ min",
		"→ 25":                          "→ #25",
	} {
		if got := show(message); got != want {
			t.Errorf("%q is cut into %q, not %q", message, got, want)
		}
	}
}

// FuzzScan holds that tokens stand in order within the message and that the
// last one is its end.
func FuzzScan(f *testing.F) {
	f.Add("3x30s deep hang, 2x1min")
	f.Fuzz(func(t *testing.T, message string) {
		var x text.Text
		x.Scan(message)
		at := int32(0)
		for i, token := range x.Tokens {
			if token.From < at || token.To < token.From || int(token.To) > len(message) {
				t.Fatalf("token %d stands at %d to %d behind %d", i, token.From, token.To, at)
			}
			at = token.To
		}
		if x.Kind(len(x.Tokens)-1) != text.End {
			t.Fatal("no end")
		}
	})
}
