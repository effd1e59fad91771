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

// Noted returns what a message of the bot's is noted as: the message that it answers
// and the stored post that it says, 0 for neither. ok is false for a message that is
// not noted.
func (tx *Tx) Noted(message training.MessageID) (source training.MessageID, post int64, ok bool, err error) {
	const verb = "read what a message is noted as"
	var noted, sent bool
	noted, err = tx.one(verb, "SELECT coalesce(source, 0) FROM answer WHERE message = ? LIMIT 1", []any{int64(message)}, &source)
	if err != nil {
		return 0, 0, false, err
	}
	sent, err = tx.one(verb, "SELECT id FROM post WHERE message = ? LIMIT 1", []any{int64(message)}, &post)
	return source, post, noted || sent, err
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
