package discord

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"rungbook/bot"
	"rungbook/bot/slash"
	"rungbook/bot/words"
	"rungbook/training"
)

// What a team has before anything else is said.
const (
	defaultNudge  training.Clock = 17*60 + 30
	defaultDigest training.Clock = 18 * 60
	quietFrom     training.Clock = 22 * 60
	quietUntil    training.Clock = 7 * 60
)

func freshTeam(id training.TeamID) training.Team {
	return training.Team{
		ID: id, Nudge: defaultNudge, DigestDay: time.Sunday, Digest: defaultDigest,
		Quiet: training.Quiet{From: quietFrom, Until: quietUntil},
	}
}

// setup settles where the team is, has the bot settle the rest, and says which
// permissions lack there.
func (a *Adapter) setup(ctx context.Context, i *interaction, text string, named []bot.Author, author bot.Author, o *origin) error {
	team := training.TeamID(i.Guild)
	if author.Manager {
		ready, err := a.settleTeam(ctx, i, team, text)
		if err != nil {
			return err
		}
		if ready != "" {
			o.tell(ctx, a, ready)
			return nil
		}
	}
	if _, settled, err := a.teamChannelOf(ctx, team); err != nil || !settled {
		o.tell(ctx, a, words.ManagersOnly("setup"))
		return err
	}
	a.command(ctx, i, text, named, author, o)
	if !author.Manager {
		return nil
	}
	return a.afterSetup(ctx, team, o)
}

// settleTeam makes the team where there is none, and notes its channel and its
// coach role. It returns what is still missing, in words.
func (a *Adapter) settleTeam(ctx context.Context, i *interaction, team training.TeamID, text string) (lack string, err error) {
	at, settled, err := a.teamChannelOf(ctx, team)
	if err != nil {
		return "", err
	}
	at = chosen(at, i)
	fresh := freshTeam(team)
	if !settled {
		if lack := readTeam(text, &fresh); lack != "" {
			return lack, nil
		}
		if fresh.Name, err = a.serverName(ctx, team); err != nil {
			return "", err
		}
	}
	first := false
	err = a.store.Update(ctx, func(tx Tx) error {
		if _, known, err := tx.Team(team); err != nil {
			return err
		} else if !known {
			if err := tx.PutTeam(fresh); err != nil {
				return err
			}
		}
		if err := tx.PutTeamChannel(team, int64(at.channel), int64(at.coaches)); err != nil {
			return err
		}
		first, err = watchOnly(tx, team, at.channel, i.ID)
		return err
	})
	if first && err == nil {
		a.memory.noteCaughtUp(at.channel)
	}
	a.memory.forgetTeamChannel(team)
	a.memory.forgetCoaches(team)
	return "", err
}

// chosen is where a command settles that a team is: where it was given, unless
// it says otherwise or the team is somewhere already.
func chosen(at teamChannel, i *interaction) teamChannel {
	if at.channel == 0 {
		at.channel = i.Channel
	}
	_, options := i.command()
	for _, o := range options {
		switch o.Name {
		case "channel":
			at.channel = snowflake(number(o.text()))
		case "coach-role":
			at.coaches = snowflake(number(o.text()))
		}
	}
	return at
}

// watchOnly has a channel read from a message on, if it is not already. One that
// was the team's before is no longer read, nor are the threads under it.
func watchOnly(tx Tx, team training.TeamID, channel, since snowflake) (first bool, err error) {
	watched, err := tx.Watched(team)
	if err != nil || slices.Contains(watched, int64(channel)) {
		return false, err
	}
	for _, id := range watched {
		if err := tx.Unwatch(id); err != nil {
			return false, err
		}
	}
	return true, tx.Watch(team, int64(channel), training.MessageID(since))
}

// readTeam reads what a team cannot be without, and says what is lacking.
func readTeam(text string, into *training.Team) (lack string) {
	var values slash.Values
	if command, rest := slash.Find(bot.Commands(), text); command != nil {
		values, _ = command.Parse(rest) // what can't be read is lacking
	}
	zone, err := time.LoadLocation(values["zone"])
	if values["zone"] == "" || err != nil || zone.String() == "Local" {
		return words.TeamNeedsZone
	}
	days, err := training.ParseWeekdays(values["days"])
	if err != nil {
		return words.TeamNeedsDays(zone)
	}
	into.Zone, into.Days = zone, days
	return ""
}

func (a *Adapter) serverName(ctx context.Context, team training.TeamID) (string, error) {
	a.memory.mu.Lock()
	name := a.memory.serverNames[team]
	a.memory.mu.Unlock()
	if name != "" {
		return name, nil
	}
	g, err := a.api.guild(ctx, snowflake(team))
	return g.Name, err
}

// afterSetup says, after the bot's own answer, what the bot may not do in the
// channel, and offers to read its past weeks.
func (a *Adapter) afterSetup(ctx context.Context, team training.TeamID, o *origin) error {
	at, _, err := a.teamChannelOf(ctx, team)
	if err != nil {
		return err
	}
	lack, err := a.lacking(ctx, snowflake(team), at.channel)
	if err != nil {
		return fmt.Errorf("ask for permissions: %w", err)
	}
	channel := fmt.Sprintf("<#%s>", at.channel)
	lines := []string{words.ChannelReady(channel)}
	if len(lack) > 0 {
		lines[0] = words.ChannelLacks(channel, lack)
	}
	var rows []any
	if a.imports != nil && len(lack) == 0 {
		lines = append(lines, words.ImportOffer)
		rows = []any{actionRow([]any{button(words.LabelImport(8), importID(8, team))})}
	}
	a.queues.add(a.work, queueKey{askedQueue, o.asked.ID}, func(ctx context.Context) {
		o.tell(ctx, a, strings.Join(lines, "\n"), rows...)
	})
	return nil
}

func importID(weeks int, team training.TeamID) string {
	return fmt.Sprintf("import:%d:%d", weeks, team)
}

func readImport(id string) (weeks int, team training.TeamID, ok bool) {
	_, err := fmt.Sscanf(id, "import:%d:%d", &weeks, &team)
	return weeks, team, err == nil && weeks > 0 && weeks <= 52
}

// progressEvery is how seldom the progress line is renewed.
const progressEvery = 2 * time.Second

// importWeeks reads the past weeks of the team's channel, with a line that says
// how far it is, and takes them in without answering.
func (a *Adapter) importWeeks(ctx context.Context, team training.TeamID, weeks int, author bot.Author, o *origin) error {
	at, settled, err := a.teamChannelOf(ctx, team)
	switch {
	case err != nil:
		return err
	case !author.Manager:
		o.tell(ctx, a, words.ImportIsFor)
		return nil
	case !settled || a.imports == nil:
		o.tell(ctx, a, words.ButtonIsOver)
		return nil
	}
	o.tell(ctx, a, words.ImportStart)
	now := a.clock()
	var events []bot.Event
	var shown time.Time
	from := snowflakeAt(now.AddDate(0, 0, -7*weeks))
	for {
		page, err := a.api.historyPage(ctx, at.channel, from)
		if err != nil {
			return err
		}
		for _, m := range page {
			if from = m.ID; m.typed(a.me()) {
				events = append(events, a.message(m, team, bot.Channel, m.author(0)))
			}
		}
		if len(page) < pageSize {
			break
		}
		if at := a.api.limiter.clock(); at.Sub(shown) >= progressEvery {
			shown = at
			o.progress(ctx, a, words.ImportProgress(len(events), timeOf(from)))
		}
	}
	logs, err := a.imports(ctx, team, events, now)
	if err != nil {
		return err
	}
	a.memory.forgetDue(team)
	o.progress(ctx, a, words.Imported(len(events), weeks, logs))
	return nil
}

// progress puts a new line in the place of the last answer.
func (o *origin) progress(ctx context.Context, a *Adapter, text string) {
	o.mu.Lock()
	defer o.mu.Unlock()
	_, err := a.api.editOriginal(ctx, o.asked, body{Content: text, Mentions: nobody, Rows: []any{}})
	if err != nil && !errors.Is(err, context.Canceled) {
		a.log.Warn("tell how far reading is", "cause", err)
	}
}
