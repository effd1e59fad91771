package parser_test

import (
	"strconv"
	"strings"
	"testing"

	"rungbook/parser"
)

const (
	typical = "3x30s deep hang, 2x1min transitions"
	light   = "30 seconds of deep hang, 1 minute of transitions" // many of these stay below the caps
	chatter = "honestly the weather was lovely so we went for a long walk by the river and talked about nothing "
)

var kept parser.Result

func BenchmarkParse(b *testing.B) {
	for _, c := range []struct{ name, text string }{
		{"typical", typical},
		{"with all", "yesterday: 3x30s deep hang +5kg rest 60s @8, muscle-up 1/3"},
		{"pain", "3x30s deep hang, left elbow sore"},
		{"100", grow(light+", ", 100)},
		{"1000", grow(light+", ", 1000)},
		{"4000", grow(light+", ", 4000)},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			b.SetBytes(int64(len(c.text)))
			for b.Loop() {
				kept = read(c.text)
			}
		})
	}
}

func BenchmarkChatter(b *testing.B) {
	text := grow(chatter, 99) // no number, no word of the body
	for _, n := range []int{1, 10, 40} {
		long := strings.Repeat(text+" ", n)
		b.Run(strconv.Itoa(len(long)), func(b *testing.B) {
			b.ReportAllocs()
			b.SetBytes(int64(len(long)))
			for b.Loop() {
				kept = read(long)
			}
		})
	}
}

// grow repeats a text up to n characters at most, cut where a part ends.
func grow(text string, n int) string {
	long := strings.Repeat(text, n/len(text)+1)[:n]
	if at := strings.LastIndex(long, ", "); at > 0 {
		return long[:at]
	}
	return long
}
