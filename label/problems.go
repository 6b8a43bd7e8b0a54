package label

import "pipstake/ids/problem"

// Problems returns which size would do.
func (e *RoomError) Problems() []problem.Problem {
	return problem.Use(e.Error(), "choose a larger stock: {stocks}").Problems()
}

// Problems returns which character the font lacks.
func (e *GlyphError) Problems() []problem.Problem {
	return problem.Use(e.Error(), "write the name in Latin letters, or name a font that has the character: {font}").Problems()
}

// Problems returns which character cannot be set.
func (e *ScriptError) Problems() []problem.Problem {
	return problem.Use(e.Error(), "write the name in Latin letters").Problems()
}
