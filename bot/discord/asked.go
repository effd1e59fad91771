package discord

import (
	"context"
	"errors"
	"time"

	"rungbook/bot"
	"rungbook/bot/slash"
	"rungbook/bot/words"
	"rungbook/training"
)

// First answers to an interaction, from the platform's reference.
const (
	answerSays      = 4
	answerDefers    = 5
	answerLeaves    = 6 // a button was pressed, and nothing changes
	answerTouches   = 7 // the message whose button was pressed becomes another
	answerCompletes = 8
	answerForm      = 9
)

// deferAfter is how long an answer may take before the platform, which waits
// 3 s, is told to wait longer.
const deferAfter = 1500 * time.Millisecond

// queueAsked takes an interaction: completions and forms are answered at once,
// the rest goes into the team's queue, in order with what is said.
func (a *Adapter) queueAsked(i *interaction) {
	if i.Type == askedCompletion || i.Type == askedCommand && needsForm(i) {
		a.queues.add(a.work, queueKey{askedQueue, i.ID}, func(ctx context.Context) {
			if i.Type == askedCompletion {
				a.report("complete", a.complete(ctx, i))
				return
			}
			a.report("open a form", a.openForm(ctx, i))
		})
		return
	}
	o := &origin{channel: i.Channel, direct: i.Guild == 0, asked: i}
	o.timer = time.AfterFunc(a.defers, func() { a.report("ask for time", o.deferAnswer(a.work, a)) })
	a.reads.promote(training.TeamID(i.Guild), newMessages)
	key := queueKey{intakeQueue, i.Guild}
	if i.Guild == 0 {
		key = queueKey{directQueue, snowflake(i.by(0).ID)}
	}
	a.queues.add(a.work, key, func(ctx context.Context) {
		met := false
		defer func() {
			if !met {
				o.tell(ctx, a, words.FaultInShort)
			}
		}()
		err := a.meetAsked(ctx, i, o)
		a.report("meet what was asked", err)
		met = err == nil
	})
}

// meetAsked meets a command, a button or a form.
func (a *Adapter) meetAsked(ctx context.Context, i *interaction, o *origin) error {
	switch {
	case i.Type == askedComponent && i.Guild == 0:
		return a.meetButtonAlone(ctx, i, o)
	case i.Guild == 0:
		o.tell(ctx, a, words.NotAlone)
		return nil
	}
	team := training.TeamID(i.Guild)
	at, settled, err := a.teamChannelOf(ctx, team)
	if err != nil {
		return err
	}
	author := i.by(at.coaches)
	if settled {
		if err := a.seeAuthor(ctx, team, author, timeOf(i.ID)); err != nil {
			return err
		}
		if err := a.coachByHand(ctx, team, &author); err != nil {
			return err
		}
	}
	if i.Type == askedComponent {
		return a.meetButton(ctx, i, team, author, o)
	}
	text, named := i.typed()
	o.source = training.MessageID(i.ID)
	if slash.Names(text, "setup") {
		return a.setup(ctx, i, text, named, author, o)
	}
	if !settled {
		o.tell(ctx, a, words.NoTeamHere)
		return nil
	}
	a.command(ctx, i, text, named, author, o)
	return nil
}

// command hands a command to the bot as the text it would have been typed as,
// so that one parser and one table serve all.
func (a *Adapter) command(ctx context.Context, i *interaction, text string, named []bot.Author, author bot.Author, o *origin) {
	team := training.TeamID(i.Guild)
	a.step(ctx, team, bot.Message{
		ID: training.MessageID(i.ID), Team: team, Author: author, Place: bot.Channel, At: timeOf(i.ID),
		Text: text, ToBot: true, Mentioned: named,
	}, o)
}

// meetButton meets a button in a server.
func (a *Adapter) meetButton(ctx context.Context, i *interaction, team training.TeamID, author bot.Author, o *origin) error {
	if weeks, whose, ok := readImport(i.Data.CustomID); ok && whose == team {
		return a.importWeeks(ctx, team, weeks, author, o)
	}
	tap, ok := readTap(i.Data.CustomID)
	if !ok || tap.Team != team {
		o.tell(ctx, a, words.ButtonIsOver)
		return nil
	}
	tap.ID, tap.Author, tap.Place, tap.At = training.MessageID(i.ID), author, bot.Channel, timeOf(i.ID)
	a.step(ctx, team, tap, o)
	return nil
}

// typed is the command as it would be typed, and whom its options name.
func (i *interaction) typed() (text string, named []bot.Author) {
	if i.Type == askedForm {
		return i.submitted(), nil
	}
	name, options := i.command()
	var pairs []slash.Pair
	for _, o := range options {
		pairs = append(pairs, slash.Pair{Name: o.Name, Value: o.typed()})
	}
	for id, u := range i.Data.Resolved.Users {
		named = append(named, bot.Author{ID: training.PersonID(id), Name: u.name()})
	}
	return slash.Line(name, pairs...), named
}

// command is the full name and the options, out of what the platform nests.
func (i *interaction) command() (name string, options []option) {
	name, options = i.Data.Name, i.Data.Options
	if len(options) == 1 && options[0].Type == optionSub {
		return name + " " + options[0].Name, options[0].Options
	}
	return name, options
}

// typed is an option's value as it would be typed.
func (o option) typed() string {
	switch o.Type {
	case optionUser:
		return "<@" + o.text() + ">"
	case optionChannel:
		return "<#" + o.text() + ">"
	case optionRole:
		return "<@&" + o.text() + ">"
	}
	return o.text()
}

// answers reports whether a post is to be given back through the interaction. A
// post for all that was asked for where somebody is alone with the bot is not: it
// goes to the team's channel.
func (o *origin) answers(post bot.Post) bool {
	away := o.direct && post.To == bot.ToChannel
	return o.asked != nil && !away && post.Unasked == 0 && (post.Kind == bot.Reply || post.Kind == bot.Fault)
}

// answer gives a post back through the interaction. done is false where it must be
// sent as a message: the interaction is over, or its answer was deferred, which
// makes it private, and the post is for all. The error is as of Send.
func (s *sender) answer(ctx context.Context, post bot.Post) (id snowflake, done bool, err error) {
	o := s.origin
	o.mu.Lock()
	defer o.mu.Unlock()
	private := post.To != bot.ToChannel
	var ids []training.MessageID
	for _, b := range s.bodies(post) {
		if private {
			b.Flags = flagEphemeral
		}
		if o.state == deferred && !private {
			_, err := s.api.editOriginal(ctx, o.asked, body{Content: words.SeeChannel, Mentions: nobody, Rows: []any{}})
			o.state = answered
			return 0, false, ignoreOver(err)
		}
		id, err := o.give(ctx, s.Adapter, b)
		if over(err) && len(ids) == 0 {
			return 0, false, nil
		}
		if err != nil {
			return 0, false, err
		}
		ids = append(ids, training.MessageID(id))
	}
	if len(ids) == 0 || ids[0] == 0 {
		return 0, true, nil
	}
	return snowflake(ids[0]), true, s.note(ctx, post, conversation{o.channel, o.direct}, ids)
}

// give sends one piece: as the first answer, instead of the promise of one, or
// after the first answer. o.mu must be held.
func (o *origin) give(ctx context.Context, a *Adapter, b body) (snowflake, error) {
	o.stop()
	switch o.state {
	case unanswered:
		id, err := a.api.respond(ctx, o.asked, answerSays, b, b.files)
		if refusedFor(err, codeAnswered) { // it got through before, and its answer was lost
			id, err = 0, nil
		}
		if err == nil {
			o.state = answered
		}
		return id, err
	case deferred:
		id, err := a.api.editOriginal(ctx, o.asked, b)
		if err == nil {
			o.state = answered
		}
		return id, err
	}
	return a.api.followUp(ctx, o.asked, b)
}

func (o *origin) stop() {
	if o.timer != nil {
		o.timer.Stop()
	}
}

// over reports whether an interaction can no longer be answered.
func over(err error) bool {
	return refusedFor(err, codeUnknownAsked, codeUnknownWebhook, codeInvalidToken)
}

func ignoreOver(err error) error {
	if over(err) {
		return nil
	}
	return err
}

// deferAnswer tells the platform that the answer takes longer; it will be for
// whoever asked alone.
func (o *origin) deferAnswer(ctx context.Context, a *Adapter) error {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.state != unanswered {
		return nil
	}
	_, err := a.api.respond(ctx, o.asked, answerDefers, map[string]any{"flags": flagEphemeral}, nil)
	if err == nil || refusedFor(err, codeAnswered) {
		o.state = deferred
		return nil
	}
	return ignoreOver(err)
}

// tell answers whoever asked with words of the adapter's own.
func (o *origin) tell(ctx context.Context, a *Adapter, text string, rows ...any) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if rows == nil {
		rows = []any{}
	}
	_, err := o.give(ctx, a, body{Content: text, Mentions: nobody, Rows: rows, Flags: flagEphemeral})
	if err != nil && !errors.Is(err, context.Canceled) {
		a.log.Warn("answer what was asked", "cause", err)
	}
}

// finish answers an interaction to which nothing was said.
func (o *origin) finish(ctx context.Context, a *Adapter) {
	if o.asked == nil {
		return
	}
	o.mu.Lock()
	o.stop()
	idle := o.state != answered
	leave := idle && o.state == unanswered && o.asked.Type == askedComponent
	if leave {
		o.state = answered
	}
	o.mu.Unlock()
	switch {
	case leave:
		_, err := a.api.respond(ctx, o.asked, answerLeaves, nil, nil)
		a.report("leave a button", ignoreOver(err))
	case idle:
		o.tell(ctx, a, words.NothingToSay)
	}
}
