package parser

import "strings"

// Misspelt words of the body. A slip of one letter is mended only where the rest
// of the message already speaks of pain, or of a site: "shouldr hurts", "elbow
// hurst".

// siteWords and hurtWords are what an unknown word may be meant for.
var (
	siteWords = [...]string{"elbow", "elbows", "wrist", "wrists", "shoulder", "shoulders", "forearm", "forearms", "finger", "fingers", "knuckle", "knuckles", "tendon", "tendons", "collarbone", "breastbone"}
	hurtWords = [...]string{"hurts", "hurting", "sore", "pain", "aching", "painful", "swollen", "swelling", "tingling", "twinge", "niggle", "soreness", "tweaked", "strained", "sprained", "pinching", "throbbing", "tendonitis", "tendinitis", "inflamed", "straighten"}
)

// bodySlips mends the words of the body that are one slip away from a known one.
// sited says that a site is named already: then only complaints are looked for.
func (r *reader) bodySlips(sited bool) {
	complains := r.spoken&bComplaint != 0
	switch {
	case sited && !complains:
		r.mendBody(hurtWords[:])
	case complains && !sited:
		r.mendBody(siteWords[:])
	}
}

// mendBody takes unknown words for those they are one slip away from.
func (r *reader) mendBody(words []string) {
	for i := range r.toks {
		t := &r.toks[i]
		if t.kind != kWord || t.b-t.a < 4 || t.f != 0 || t.m != 0 || t.body != 0 || r.fuzzy >= fuzzyCap || r.partOfAName(i) {
			continue
		}
		r.fuzzy++
		if r.squeezed(i) {
			continue
		}
		for _, word := range words {
			if slipOf(string(r.word(i)), word) {
				r.respell(t, word)
				break
			}
		}
	}
}

// slipOf reports whether a word is another with one letter wrong; of a short one,
// with two letters that changed places.
func slipOf(word, meant string) bool {
	if len(word) >= 5 && len(meant) >= 5 {
		return edits(word, meant, 1) <= 1
	}
	return len(word) == len(meant) && len(word) == 4 && word[0] == meant[0] && edits(word, meant, 1) <= 1 && word != meant && sameLetters(word, meant)
}

func sameLetters(a, b string) bool {
	for i := range len(a) {
		if strings.Count(a, a[i:i+1]) != strings.Count(b, a[i:i+1]) {
			return false
		}
	}
	return true
}

// squeezed takes a word with letters drawn out for what it is without: elbowww.
func (r *reader) squeezed(i int) bool {
	word := r.word(i)
	short := make([]byte, 0, len(word))
	for k, c := range word {
		if k == 0 || c != word[k-1] {
			short = append(short, c)
		}
	}
	if len(short) > len(word)-2 || language[string(short)].b&(bSite|bPain) == 0 {
		return false
	}
	r.respell(&r.toks[i], string(short))
	return true
}

// respell takes a token for another word.
func (r *reader) respell(t *token, word string) {
	t.a = int32(len(r.buf))
	r.buf = append(r.buf, word...)
	t.b = int32(len(r.buf))
	w := language[word]
	t.f, t.m, t.body, t.n = w.f, w.m, w.b, w.n
	r.spoken |= w.b
}
