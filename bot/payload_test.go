package bot

import (
	"reflect"
	"testing"
)

// A post that was formed before an upgrade is sent after it: with whom it
// mentions, by number then and by name in the facts.
func TestPostFormedBeforeMentionsHadNames(t *testing.T) {
	before := `{"Kind":"nudge","Team":0,"To":"channel","Person":0,"Name":"","About":0,"Answers":0,"Cause":0,"Event":0,` +
		`"Text":"Tomé and Wen: today is a session day for you.","Buttons":null,"Mentions":[3,4],"Files":null,"Tapped":false,` +
		`"Until":"2026-10-05T22:00:00Z","Unasked":0,"Facts":{"mentioned":["Tomé","Wen"]}}`
	post, err := DecodePost([]byte(before))
	if err != nil {
		t.Fatal(err)
	}
	want := []Mention{{3, "Tomé"}, {4, "Wen"}}
	if !reflect.DeepEqual(post.Mentions, want) || post.Text == "" || post.Until.IsZero() {
		t.Errorf("read as %+v", post)
	}
	again, err := EncodePost(post)
	if err != nil {
		t.Fatal(err)
	}
	now, err := DecodePost(again)
	if err != nil || !reflect.DeepEqual(now, post) {
		t.Errorf("written anew it is read as %+v, %v; want %+v", now, err, post)
	}
}

// A name that is nowhere stays what it was in the text; that nobody is mentioned
// stays so.
func TestMentionsWithoutNames(t *testing.T) {
	for data, want := range map[string][]Mention{
		`{"Kind":"nudge","Mentions":[3]}`:                                            {{3, ""}},
		`{"Kind":"nudge","Mentions":[3,4],"Facts":{"mentioned":["Tomé"]}}`:           {{3, "Tomé"}, {4, ""}},
		`{"Kind":"nudge","Mentions":[{"ID":3,"Name":"Tomé"}],"Facts":{"other":[1]}}`: {{3, "Tomé"}},
		`{"Kind":"notice","Mentions":null}`:                                          nil,
		`{"Kind":"notice"}`:                                                          nil,
	} {
		if post, err := DecodePost([]byte(data)); err != nil || !reflect.DeepEqual(post.Mentions, want) {
			t.Errorf("%s: %+v, %v", data, post.Mentions, err)
		}
	}
	for _, data := range []string{`{"Mentions":["x"]}`, `{"Mentions":[3],"Facts":{"mentioned":3}}`} {
		if _, err := DecodePost([]byte(data)); err == nil {
			t.Errorf("%s was read", data)
		}
	}
}
