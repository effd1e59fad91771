package bot

import (
	"encoding/json"
	"fmt"
	"slices"

	"rungbook/bot/words"
)

// StoredFacts is the Facts of a post that was read back from the store: the
// JSON they were written as. It marshals to the same bytes.
type StoredFacts json.RawMessage

// Facts marks what a post's words are made from.
func (StoredFacts) Facts() {}

// MarshalJSON returns the JSON as it was stored.
func (f StoredFacts) MarshalJSON() ([]byte, error) { return json.RawMessage(f).MarshalJSON() }

// payload is a post as it is stored, with facts that can be read back without
// knowing their type.
type payload struct {
	Post
	Mentions []storedMention
	Facts    json.RawMessage `json:",omitempty"`
}

// storedMention is a Mention. Earlier versions wrote the number alone, and a post
// that one of them formed may be sent by this one.
type storedMention struct{ Mention }

func (m *storedMention) UnmarshalJSON(data []byte) error {
	if len(data) > 0 && data[0] != '{' {
		return json.Unmarshal(data, &m.ID)
	}
	return json.Unmarshal(data, &m.Mention)
}

// mentions are those of the post. The names that a number alone lacks stand in
// the facts, in the same order.
func (p payload) mentions() ([]Mention, error) {
	var facts words.NudgeFacts
	if slices.ContainsFunc(p.Mentions, func(m storedMention) bool { return m.Name == "" }) && p.Facts != nil {
		if err := json.Unmarshal(p.Facts, &facts); err != nil {
			return nil, fmt.Errorf("names of those mentioned: %w", err)
		}
	}
	var all []Mention
	for i, m := range p.Mentions {
		if m.Name == "" && i < len(facts.Mentioned) {
			m.Name = facts.Mentioned[i]
		}
		all = append(all, m.Mention)
	}
	return all, nil
}

// EncodePost writes a post for FormPost. Its number is left out: FormPost gives
// it one.
func EncodePost(post Post) ([]byte, error) {
	stored := payload{Post: post}
	for _, m := range post.Mentions {
		stored.Mentions = append(stored.Mentions, storedMention{m})
	}
	var err error
	if post.Facts != nil {
		if stored.Facts, err = json.Marshal(post.Facts); err != nil {
			return nil, fmt.Errorf("encode post: facts: %w", err)
		}
	}
	stored.Post.Facts, stored.Post.Unasked = nil, 0
	data, err := json.Marshal(stored)
	if err != nil {
		return nil, fmt.Errorf("encode post: %w", err)
	}
	return data, nil
}

// DecodePost reads what EncodePost wrote. Facts become StoredFacts; the number
// is 0.
func DecodePost(data []byte) (Post, error) {
	var stored payload
	if err := json.Unmarshal(data, &stored); err != nil {
		return Post{}, fmt.Errorf("decode post: %w", err)
	}
	post := stored.Post
	var err error
	if post.Mentions, err = stored.mentions(); err != nil {
		return Post{}, fmt.Errorf("decode post: %w", err)
	}
	if stored.Facts != nil {
		post.Facts = StoredFacts(stored.Facts)
	}
	return post, nil
}
