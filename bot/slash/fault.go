package slash

// Fault is what cannot be read of a command's words.
type Fault struct {
	Kind    FaultKind
	Command *Command
	Option  *Option // whose value it is; nil for UnknownWords
	Value   string  // what was typed there; empty for MissingOption and EmptyValue
}

// FaultKind says what is wrong.
type FaultKind string

const (
	UnknownWords  FaultKind = "unknown words"  // words that belong to no option
	MissingOption FaultKind = "missing option" // one that is required
	EmptyValue    FaultKind = "empty value"    // a name with nothing behind it
	GivenTwice    FaultKind = "given twice"
	NotAChoice    FaultKind = "not a choice"
)

// Error names the kind, the command and the option. What was typed may be of
// anything and is left out.
func (f *Fault) Error() string {
	text := "read /" + f.Command.Name + ": "
	if f.Option != nil {
		text += "option " + f.Option.Name + ": "
	}
	return text + string(f.Kind)
}
