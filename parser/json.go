package parser

import (
	"encoding/json"

	"rungbook/training"
)

// answer is one line of the parse command. Day and sets are those of the first
// day; where there are several, days holds all of them.
type answer struct {
	Text    string  `json:"text"`
	Verdict Verdict `json:"verdict"`
	readDays
	Reading    *readDays `json:"reading,omitempty"`
	Pain       []pain    `json:"pain,omitempty"`
	Problems   []place   `json:"problems,omitempty"`
	Guesses    []guessed `json:"guesses,omitempty"`
	Unread     []string  `json:"unread,omitempty"`
	NotCounted []string  `json:"not_counted,omitempty"`
}

type readDays struct {
	Day  training.Day        `json:"day,omitzero"`
	Sets []training.NamedSet `json:"sets"`
	Days []dayOf             `json:"days,omitempty"`
}

type dayOf struct {
	Day  training.Day        `json:"day"`
	Sets []training.NamedSet `json:"sets"`
}

type pain struct {
	Care training.Care `json:"care"`
}

type place struct {
	From    int      `json:"from"`
	To      int      `json:"to"`
	Say     string   `json:"say"`
	Suggest []string `json:"suggest,omitempty"`
	Code    string   `json:"code"`
}

type guessed struct {
	Kind string `json:"kind"`
	Took string `json:"took"`
}

// JSON returns the result as the one line that the parse command prints, with
// the present names of rungs. If the message is Unsure, what was read of it
// stands under reading.
func (r Result) JSON(p *training.Programme, text string) ([]byte, error) {
	a := answer{Text: text, Verdict: r.Verdict, Unread: r.Unread, NotCounted: r.NotCounted}
	read := r.byDay(p)
	switch {
	case r.Verdict == Log:
		a.readDays = read
	case len(r.Days) > 0:
		a.Reading, a.readDays = &read, readDays{Day: read.Day, Sets: []training.NamedSet{}}
	default:
		a.readDays = read
	}
	if r.Care != "" {
		a.Pain = []pain{{r.Care}}
	}
	for _, problem := range r.Problems {
		a.Problems = append(a.Problems, place(problem))
	}
	for _, guess := range r.Guesses {
		a.Guesses = append(a.Guesses, guessed(guess))
	}
	return json.Marshal(a)
}

// byDay returns what was read, by days, with the present names of rungs.
func (r Result) byDay(p *training.Programme) readDays {
	all := readDays{Day: r.First().Day, Sets: []training.NamedSet{}}
	for i, read := range r.Days {
		day := dayOf{Day: read.Day}
		for _, set := range read.Sets {
			day.Sets = append(day.Sets, p.Named(set))
		}
		if i == 0 {
			all.Sets = day.Sets
		}
		all.Days = append(all.Days, day)
	}
	if len(all.Days) == 1 {
		all.Days = nil
	}
	return all
}
