package room

import (
	"fmt"
	"strings"
	"time"

	"rungbook/bot"
	"rungbook/bot/words"
)

// mostTaps is how many answers with buttons the room keeps at hand.
const mostTaps = 100

// indent stands before each line of a post but the first.
const indent = "      "

// Show puts one post on the screen. The outbox sends with it, only while Run runs.
func (r *Room) Show(post bot.Post) error {
	if len(post.Buttons) > 0 {
		r.taps = append(r.taps, post)
		r.taps = r.taps[max(0, len(r.taps)-mostTaps):]
	}
	_, err := fmt.Fprintln(r.console, r.lines(post))
	return err
}

// lines are a post's lines. Private ones say so, since all who sit at the
// keyboard see them.
func (r *Room) lines(post bot.Post) string {
	head := r.clock(r.now()) + " rungbook"
	switch post.Kind {
	case bot.Withdraw:
		if post.Tapped {
			return indent + words.RoomQuestionDown(post.Name)
		}
		return indent + words.RoomAnswerDown(r.message(post))
	case bot.Mark:
		return indent + words.RoomMarked(r.message(post))
	case bot.Nudge, bot.Digest, bot.Notice, bot.Fault:
		head += ", " + string(post.Kind)
	}
	if post.To != bot.ToChannel {
		head += words.RoomAlone(post.Name, post.To == bot.ToCoach)
	}
	if post.Kind == bot.Revise {
		head += words.RoomInstead(r.message(post))
	}
	text := head + ": " + strings.ReplaceAll(strings.TrimRight(post.Text, "\n"), "\n", "\n"+indent)
	var below []string
	for _, button := range post.Buttons {
		below = append(below, "["+string(button)+"]")
	}
	for _, file := range post.Files {
		below = append(below, words.RoomFile(file.Name, len(file.Data)))
	}
	if len(below) > 0 {
		text += "\n" + indent + strings.Join(below, " ")
	}
	return text
}

// message names the message a post answers.
func (r *Room) message(post bot.Post) string {
	if said, ok := r.said[post.Answers]; ok {
		return words.RoomMessage(said.author.Name, r.clock(said.at))
	}
	return words.RoomEarlier(post.Name)
}

func (r *Room) clock(at time.Time) string { return at.In(r.house.Zone).Format("15:04") }
