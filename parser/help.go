package parser

func (r *reader) tooLong(cut int) Result { return Result{Verdict: Chat, Day: r.ctx.Today} }

func (a *assembler) leftOver() *trouble { return nil }

func (r *reader) explain(t *trouble) Problem {
	return Problem{Code: t.code, From: r.rune(t.it.from, false), To: r.rune(t.it.to, true), Say: t.code}
}

func (r *reader) nearly(a *assembler, out *Result) {}

func (r *reader) ordinary(e *entry) bool       { return false }
func (r *reader) rune(tok int32, end bool) int { return 0 }
