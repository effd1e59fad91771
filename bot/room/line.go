package room

import (
	"cmp"
	"context"
	"slices"
	"strings"
	"time"

	"rungbook/bot"
	"rungbook/bot/slash"
	"rungbook/bot/words"
	"rungbook/training"
)

// own are the room's commands, for what a platform has controls for; all other
// commands are the bot's.
var own = map[string]func(r *Room, ctx context.Context, value string){
	"/as":     (*Room).as,
	"/who":    func(r *Room, _ context.Context, _ string) { r.who() },
	"/edit":   (*Room).edit,
	"/delete": func(r *Room, ctx context.Context, _ string) { r.delete(ctx) },
	"/tap":    (*Room).tap,
}

// meet acts on a line typed and reports whether it was the last.
func (r *Room) meet(ctx context.Context, line string) (quit bool) {
	if line == "" {
		return false
	}
	if err := r.look(ctx); err != nil {
		r.check(err)
		return false
	}
	r.console.echo(r.clock(r.now()) + " " + r.speaker.Name + ": " + line)
	word, value, _ := strings.Cut(line, " ")
	if word == "/quit" {
		return true
	}
	if act, ok := own[word]; ok {
		act(r, ctx, strings.TrimSpace(value))
		return false
	}
	place := bot.Channel
	if rest, private := strings.CutPrefix(line, ">"); private {
		place, line = bot.Private, strings.TrimSpace(rest)
	}
	r.speak(ctx, place, line)
	return false
}

func (r *Room) speak(ctx context.Context, place bot.Place, text string) {
	at := r.now()
	said := bot.Message{ID: r.number(at), Team: r.house.Team, Author: r.speaker, Place: place, Text: text, At: at}
	r.said[said.ID] = message{r.speaker, place, at, slash.IsCommand(text)}
	r.latest[r.speaker.ID] = said.ID
	r.step(ctx, said, at)
}

// perMillisecond leaves room for several messages of one millisecond.
const perMillisecond = 1_000_000

// number makes a message's number. Numbers grow, also over restarts.
func (r *Room) number(at time.Time) training.MessageID {
	r.lastID = max(r.lastID+1, training.MessageID(at.UnixMilli()*perMillisecond))
	return r.lastID
}

// as makes somebody else the speaker. An unknown name is a stranger, who becomes a
// member by a first log.
func (r *Room) as(_ context.Context, name string) {
	name = strings.Trim(name, `"`)
	if name == "" {
		r.who()
		return
	}
	person, ok := r.find(name)
	if !ok {
		for _, other := range r.people {
			person.ID = max(person.ID, other.ID)
		}
		person = bot.Author{ID: person.ID + 1, Name: name}
		r.people = append(r.people, person)
		r.callNames()
		r.say(words.RoomNewcomer(name))
	}
	r.speaker = person
}

func (r *Room) who() {
	var names []string
	for _, person := range r.people {
		name := person.Name
		switch {
		case person.Coach:
			name = words.RoomCoach(name)
		case person.Manager:
			name = words.RoomManager(name)
		}
		names = append(names, name)
	}
	r.say(words.RoomPeople(names))
}

// last is the speaker's last message, if that can still be changed.
func (r *Room) last() (training.MessageID, message, bool) {
	id, ok := r.latest[r.speaker.ID]
	said := r.said[id]
	switch {
	case !ok:
		r.say(words.RoomSilent(r.speaker.Name))
	case said.command:
		r.say(words.NoCommandChange)
	}
	return id, said, ok && !said.command
}

func (r *Room) edit(ctx context.Context, text string) {
	id, said, ok := r.last()
	if !ok {
		return
	}
	if text == "" {
		r.say(words.NewTextMissing)
		return
	}
	at := r.now()
	r.step(ctx, bot.Edit{
		Message: bot.Message{ID: id, Team: r.house.Team, Author: r.speaker, Place: said.place, Text: text, At: said.at, Edited: at},
	}, at)
}

func (r *Room) delete(ctx context.Context) {
	id, said, ok := r.last()
	if !ok {
		return
	}
	at := r.now()
	delete(r.latest, r.speaker.ID)
	r.step(ctx, bot.Delete{ID: id, Team: r.house.Team, Author: r.speaker, Place: said.place, At: at}, at)
}

// tap presses a button under the latest answer that has it and that the speaker
// can see: an answer to themselves, or else any.
func (r *Room) tap(ctx context.Context, name string) {
	var found bot.Post
	for _, post := range slices.Backward(r.taps) {
		seen := post.To == bot.ToChannel || post.Person == r.speaker.ID
		if !seen || !slices.Contains(post.Buttons, bot.Button(name)) {
			continue
		}
		if found.Buttons == nil || post.Person == r.speaker.ID {
			found = post
		}
		if post.Person == r.speaker.ID {
			break
		}
	}
	if found.Buttons == nil {
		r.say(words.RoomNoButton(name, r.speaker.Name))
		return
	}
	r.press(ctx, bot.Button(name), found)
}

// press presses a button under a post. One about somebody names no message of theirs.
func (r *Room) press(ctx context.Context, button bot.Button, under bot.Post) {
	at, on := r.now(), cmp.Or(under.Answers, under.Cause)
	r.step(ctx, bot.Tap{
		ID: r.number(at), Team: r.house.Team, Author: r.speaker, Place: cmp.Or(r.said[on].place, bot.Private),
		Button: button, On: on, About: cmp.Or(under.About, r.said[on].author.ID), At: at,
	}, at)
}
