package ids

// CheckCharacter lets tests compare published values, which are no identifiers.
func CheckCharacter(s string) byte { return checkCharacter([]byte(s)) }
