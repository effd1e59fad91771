package main

import "strings"

// people are the names of those whom the corpora tell of.
var people = set("ilda tome priya wen sanna bako mirela")

func set(list string) map[string]bool {
	out := map[string]bool{}
	for _, w := range strings.Fields(list) {
		out[w] = true
	}
	return out
}
