package bot

import (
	"encoding/json"
	"fmt"
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
	Facts json.RawMessage `json:",omitempty"`
}

// EncodePost writes a post for FormPost. Its number is left out: FormPost gives
// it one.
func EncodePost(post Post) ([]byte, error) {
	stored := payload{Post: post}
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
	if stored.Facts != nil {
		post.Facts = StoredFacts(stored.Facts)
	}
	return post, nil
}
