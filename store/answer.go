package store

import "rungbook/training"

func messages(numbers []int64) []training.MessageID {
	var ids []training.MessageID
	for _, n := range numbers {
		ids = append(ids, training.MessageID(n))
	}
	return ids
}

// PutAnswer notes the messages that answer the source now, in order, in the
// place of those before.
func (tx *Tx) PutAnswer(
	team training.TeamID, source training.MessageID, person training.PersonID, channel int64, answers []training.MessageID,
) error {
	if err := tx.DropAnswer(source); err != nil {
		return err
	}
	for part, message := range answers {
		if err := tx.putBotMessage("store answer", team, person, botMessage{channel, message, int64(source), part}); err != nil {
			return err
		}
	}
	return nil
}

// PutBotMessage notes a message of the bot's about the person that answers nothing.
func (tx *Tx) PutBotMessage(team training.TeamID, person training.PersonID, channel int64, message training.MessageID) error {
	return tx.putBotMessage("store bot message", team, person, botMessage{channel: channel, message: message})
}

// botMessage is a message of the bot's.
type botMessage struct {
	channel int64
	message training.MessageID
	source  any // the number of the message it answers, nil for none
	part    int // which of the messages of one answer, from 0 on
}

func (tx *Tx) putBotMessage(verb string, team training.TeamID, person training.PersonID, one botMessage) error {
	key, err := tx.personKey(verb, team, person)
	if err != nil {
		return err
	}
	_, err = tx.exec(verb, "INSERT INTO answer (message, person, channel, source, part) VALUES (?, ?, ?, ?, ?) ON CONFLICT DO NOTHING",
		int64(one.message), key, one.channel, one.source, one.part)
	return err
}

// Answer returns the messages that answer the source, in order; none if it has
// no answer.
func (tx *Tx) Answer(source training.MessageID) (channel int64, answers []training.MessageID, err error) {
	err = tx.each("read answer", "SELECT channel, message FROM answer WHERE source = ? ORDER BY part",
		[]any{int64(source)}, func(scan func(...any) error) error {
			var message training.MessageID
			err := scan(&channel, &message)
			answers = append(answers, message)
			return err
		})
	return channel, answers, err
}

// Noted returns the message that one of the bot's answers, 0 for none. ok is false
// for a message that is not noted, as none is that was said to one person alone.
func (tx *Tx) Noted(message training.MessageID) (source training.MessageID, ok bool, err error) {
	ok, err = tx.one("read what a message answers", "SELECT coalesce(source, 0) FROM answer WHERE message = ? LIMIT 1",
		[]any{int64(message)}, &source)
	return source, ok, err
}

// DropAnswer forgets the messages that answer the source.
func (tx *Tx) DropAnswer(source training.MessageID) error {
	_, err := tx.exec("forget answer", "DELETE FROM answer WHERE source = ?", int64(source))
	return err
}

// Removals lists the bot's messages about people since erased, which are still
// to be removed from the platform.
func (tx *Tx) Removals() (channels []int64, answers []training.MessageID, err error) {
	err = tx.each("list removals", "SELECT channel, message FROM removal ORDER BY message", nil, func(scan func(...any) error) error {
		var channel, message int64
		err := scan(&channel, &message)
		channels, answers = append(channels, channel), append(answers, training.MessageID(message))
		return err
	})
	return channels, answers, err
}

// DropRemoval notes that a message is removed.
func (tx *Tx) DropRemoval(message training.MessageID) error {
	_, err := tx.exec("note a message as removed", "DELETE FROM removal WHERE message = ?", int64(message))
	return err
}

// PutTold notes that a coach's direct channel holds a notice about the member: not
// which it is nor since when.
func (tx *Tx) PutTold(team training.TeamID, member, coach training.PersonID) error {
	const verb = "note that a coach was told"
	about, err := tx.personKey(verb, team, member)
	if err != nil {
		return err
	}
	to, err := tx.personKey(verb, team, coach)
	if err != nil {
		return err
	}
	_, err = tx.exec(verb, "INSERT INTO told (member, coach) VALUES (?, ?) ON CONFLICT DO NOTHING", about, to)
	return err
}

// Searches lists the coaches whose direct channels are to be searched for notices
// about people since erased.
func (tx *Tx) Searches() (coaches []training.PersonID, err error) {
	numbers, err := tx.numbers("list channels to search",
		"SELECT DISTINCT p.id FROM search s JOIN person p ON p.key = s.coach ORDER BY p.id")
	for _, n := range numbers {
		coaches = append(coaches, training.PersonID(n))
	}
	return coaches, err
}

// DropSearch notes that a coach's direct channel was searched.
func (tx *Tx) DropSearch(coach training.PersonID) error {
	_, err := tx.exec("note a channel as searched", "DELETE FROM search WHERE coach IN (SELECT key FROM person WHERE id = ?)", int64(coach))
	return err
}

// ToEmpty lists the direct channels of people since erased, from which the bot's own
// messages are to be removed.
func (tx *Tx) ToEmpty() ([]int64, error) {
	return tx.numbers("list channels to empty", "SELECT channel FROM to_empty ORDER BY channel")
}

// DropToEmpty notes that a channel is empty.
func (tx *Tx) DropToEmpty(channel int64) error {
	_, err := tx.exec("note a channel as empty", "DELETE FROM to_empty WHERE channel = ?", channel)
	return err
}
