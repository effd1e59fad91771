package bot

import "rungbook/parser"

// Script has the bot read these texts as a test wants them to be read, whatever
// the reader makes of them.
func (b *Bot) Script(reads map[string]func(parser.Context) parser.Result) {
	b.programmes.builtin.parser = scripted{b.programmes.builtin.parser, reads}
}

type scripted struct {
	reader
	reads map[string]func(parser.Context) parser.Result
}

func (s scripted) Parse(text string, ctx parser.Context) parser.Result {
	if read, ok := s.reads[text]; ok {
		return read(ctx)
	}
	return s.reader.Parse(text, ctx)
}
