package room

import (
	"fmt"
	"strings"
	"time"

	"rungbook/bot"
)

// mostTaps is how many answers with buttons the room keeps at hand.
const mostTaps = 100

// Show puts one post on the screen. It is what the outbox sends with, and is
// called only while Run is at work.
func (r *Room) Show(post bot.Post) error {
	if len(post.Buttons) > 0 {
		r.taps = append(r.taps, post)
		r.taps = r.taps[max(0, len(r.taps)-mostTaps):]
	}
	_, err := fmt.Fprintln(r.console, r.words(post))
	return err
}

// words are a post's lines. Private ones say so, since all who sit at the
// keyboard see them.
func (r *Room) words(post bot.Post) string {
	head := r.clock(r.now()) + " rungbook"
	switch post.Kind {
	case bot.Withdraw:
		if post.Tapped {
			return "      (the question to " + post.Name + " alone is taken down)"
		}
		return "      (the answer to " + r.message(post) + " is taken down)"
	case bot.Mark:
		return "      (✓ on " + r.message(post) + ")"
	case bot.Nudge, bot.Digest, bot.Notice, bot.Fault:
		head += ", " + string(post.Kind)
	}
	switch post.To {
	case bot.ToPrivate:
		head += " to " + post.Name + " alone"
	case bot.ToCoach:
		head += " to coach " + post.Name + " alone"
	}
	if post.Kind == bot.Revise {
		head += ", instead of the answer to " + r.message(post)
	}
	text := head + ": " + strings.ReplaceAll(strings.TrimRight(post.Text, "\n"), "\n", "\n      ")
	var below []string
	for _, button := range post.Buttons {
		below = append(below, "["+string(button)+"]")
	}
	for _, file := range post.Files {
		below = append(below, fmt.Sprintf("(file %s, %d bytes)", file.Name, len(file.Data)))
	}
	if len(below) > 0 {
		text += "\n      " + strings.Join(below, " ")
	}
	return text
}

// message names the message a post answers.
func (r *Room) message(post bot.Post) string {
	if said, ok := r.said[post.Answers]; ok {
		return said.author.Name + "'s " + r.clock(said.at)
	}
	return "an earlier message of " + post.Name
}

func (r *Room) clock(at time.Time) string { return at.In(r.house.Zone).Format("15:04") }
