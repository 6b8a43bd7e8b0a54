package symbol

import (
	"strings"
	"sync"
)

// A hand scanner types: it sends the numbers of keys as they stand on the
// keyboard that it was set to, and the computer makes characters of them by the
// layout that it was set to. Where the two differ, letters and hyphens change.

// keyboard is a layout: what its keys give, row by row, without and with Shift.
// A key that gives an accent for the next letter counts as the accent alone.
type keyboard struct{ name, plain, shifted string }

// american is the layout that scanners come with.
var american = keyboard{"American (QWERTY)",
	"`1234567890-=qwertyuiop[]\\asdfghjkl;'zxcvbnm,./",
	"~!@#$%^&*()_+QWERTYUIOP{}|ASDFGHJKL:\"ZXCVBNM<>?"}

// keyboards are other layouts that computers are set to. All of them are as in
// Debian's xkb-data 2.35.1 (symbols/de, ch, cz, hu, fr, be, es, it, pt, br, se,
// dk, no, tr, ca and us(dvorak)), in the same order of keys.
var keyboards = []keyboard{
	{"German (QWERTZ)",
		"^1234567890ß´qwertzuiopü+#asdfghjklöäyxcvbnm,.-",
		"°!\"§$%&/()=?`QWERTZUIOPÜ*'ASDFGHJKLÖÄYXCVBNM;:_"},
	{"Swiss (QWERTZ)",
		"§1234567890'^qwertzuiopü¨$asdfghjklöäyxcvbnm,.-",
		"°+\"*ç%&/()=?`QWERTZUIOPè!£ASDFGHJKLéàYXCVBNM;:_"},
	{"Czech (QWERTZ)",
		";+ěščřžýáíé=´qwertzuiopú)¨asdfghjklů§yxcvbnm,.-",
		"°1234567890%ˇQWERTZUIOP/('ASDFGHJKL\"!YXCVBNM?:_"},
	{"Hungarian (QWERTZ)",
		"0123456789öüóqwertzuiopőúűasdfghjkléáyxcvbnm,.-",
		"§'\"+!%/=()ÖÜÓQWERTZUIOPŐÚŰASDFGHJKLÉÁYXCVBNM?:_"},
	{"French (AZERTY)",
		"²&é\"'(-è_çà)=azertyuiop^$*qsdfghjklmùwxcvbn,;:!",
		"~1234567890°+AZERTYUIOP¨£µQSDFGHJKLM%WXCVBN?./§"},
	{"Belgian (AZERTY)",
		"²&é\"'(§è!çà)-azertyuiop^$µqsdfghjklmùwxcvbn,;:=",
		"³1234567890°_AZERTYUIOP¨*£QSDFGHJKLM%WXCVBN?./+"},
	{"Spanish (QWERTY)",
		"º1234567890'¡qwertyuiop`+çasdfghjklñ´zxcvbnm,.-",
		"ª!\"·$%&/()=?¿QWERTYUIOP^*ÇASDFGHJKLÑ¨ZXCVBNM;:_"},
	{"Italian (QWERTY)",
		"\\1234567890'ìqwertyuiopè+ùasdfghjklòàzxcvbnm,.-",
		"|!\"£$%&/()=?^QWERTYUIOPé*§ASDFGHJKLç°ZXCVBNM;:_"},
	{"Portuguese (QWERTY)",
		"\\1234567890'«qwertyuiop+´~asdfghjklçºzxcvbnm,.-",
		"|!\"#$%&/()=?»QWERTYUIOP*`^ASDFGHJKLÇªZXCVBNM;:_"},
	{"Brazilian (QWERTY)",
		"'1234567890-=qwertyuiop´[]asdfghjklç~zxcvbnm,.;",
		"\"!@#$%¨&*()_+QWERTYUIOP`{}ASDFGHJKLÇ^ZXCVBNM<>:"},
	{"Swedish or Finnish (QWERTY)",
		"§1234567890+´qwertyuiopå¨'asdfghjklöäzxcvbnm,.-",
		"½!\"#¤%&/()=?`QWERTYUIOPÅ^*ASDFGHJKLÖÄZXCVBNM;:_"},
	{"Danish (QWERTY)",
		"½1234567890+´qwertyuiopå¨'asdfghjklæøzxcvbnm,.-",
		"§!\"#¤%&/()=?`QWERTYUIOPÅ^*ASDFGHJKLÆØZXCVBNM;:_"},
	{"Norwegian (QWERTY)",
		"|1234567890+\\qwertyuiopå¨'asdfghjkløæzxcvbnm,.-",
		"§!\"#¤%&/()=?`QWERTYUIOPÅ^*ASDFGHJKLØÆZXCVBNM;:_"},
	{"Turkish (QWERTY)",
		"\"1234567890*-qwertyuıopğü,asdfghjklşizxcvbnmöç.",
		"é!'^+%&/()=?_QWERTYUIOPĞÜ;ASDFGHJKLŞİZXCVBNMÖÇ:"},
	{"Canadian French (QWERTY)",
		"#1234567890-=qwertyuiop^¸<asdfghjkl;`zxcvbnm,.é",
		"|!\"/$%?&*()_+QWERTYUIOP^¨>ASDFGHJKL:`ZXCVBNM'.É"},
	{"Dvorak",
		"`1234567890[]',.pyfgcrl/=\\aoeuidhtns-;qjkxbmwvz",
		"~!@#$%^&*(){}\"<>PYFGCRL?+|AOEUIDHTNS_:QJKXBMWVZ"},
}

// mixUp is what happens to the characters of a code where scanner and computer
// are set to different layouts.
type mixUp struct {
	why  string
	back map[rune]rune // what arrived, to what was meant
}

// mixUps are those of an American scanner at a computer with another layout,
// and the other way round.
var mixUps = sync.OnceValue(func() []mixUp {
	var all []mixUp
	for _, k := range keyboards {
		all = append(all,
			mixUp{"the computer's keyboard layout is " + k.name + " and the scanner's is American", pressed(american, k)},
			mixUp{"the scanner's keyboard layout is " + k.name + " and the computer's is American", pressed(k, american)})
	}
	return all
})

// pressed takes characters of a layout to those that the same keys give by
// another.
func pressed(meant, arrived keyboard) map[rune]rune {
	back := map[rune]rune{}
	for _, rows := range [][2]string{{meant.shifted, arrived.shifted}, {meant.plain, arrived.plain}} {
		want, got := []rune(rows[0]), []rune(rows[1])
		for i, r := range got {
			back[r] = want[i]
		}
	}
	return back
}

// undo returns the text that was meant.
func (m mixUp) undo(text string) string {
	return strings.Map(func(r rune) rune {
		if meant, ok := m.back[r]; ok {
			return meant
		}
		return r
	}, text)
}
