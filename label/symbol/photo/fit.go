package photo

import "math"

// fit is a model laid over a scale.
type fit struct {
	model *model
	pose  pose
	known float64 // the correlation of what is known with what is seen
	whole float64 // known, and how clearly the other modules are light or dark
}

// score measures how well a model fits in a pose. With the pattern alone it is
// quick; with all modules it is sharp.
func (s *search) score(sc *scale, m *model, q pose, all bool) fit {
	f := fit{model: m, pose: q}
	if !q.convex() {
		return f
	}
	s.work += len(m.known)
	v := q.view(m.size)
	s.levels = sc.relative(s.levels, v, m.size, m.known)
	var sum, squares, both int
	for i, level := range s.levels {
		sum += int(level)
		squares += int(level) * int(level)
		both += int(level) * m.known[i].light
	}
	n := float64(len(m.known))
	mean := float64(sum) / n
	spread := math.Sqrt(max(float64(squares)/n-mean*mean, 0))
	if spread < part {
		return f
	}
	bias := float64(m.light) / n
	f.known = (float64(both)/n - mean*bias) / (spread * math.Sqrt(1-bias*bias))
	f.whole = f.known
	if !all {
		return f
	}
	s.work += len(m.data)
	s.levels = sc.relative(s.levels, v, m.size, m.data)
	clear, between, most := 0, int32(mean), int32(spread)
	for _, level := range s.levels {
		clear += int(min(max(level-between, between-level), most))
	}
	f.whole += 0.5 * float64(clear) / (spread * float64(len(m.data)))
	return f
}

// moves are the ways in which a pose is shifted: the whole of it and each
// corner by itself, across and down, then turned and made larger.
const moves = 12

// moved shifts a pose by so many pixels at its corners.
func (q pose) moved(move int, by float64) pose {
	c := centre(q)
	switch {
	case move < 2:
		for i := range q {
			q[i] = q[i].plus(axis(move).times(by))
		}
	case move < 10:
		i := (move - 2) / 2
		q[i] = q[i].plus(axis(move).times(by))
	default:
		for i, p := range q {
			arm := p.minus(c)
			l := max(arm.length(), 1)
			if move == 10 {
				arm = arm.turned()
			}
			q[i] = p.plus(arm.times(by / l))
		}
	}
	return q
}

func axis(n int) Point {
	if n%2 == 0 {
		return Point{X: 1}
	}
	return Point{Y: 1}
}

// climb shifts the pose, by steps from one share of a module down to another,
// as long as the fit gets better.
func (s *search) climb(sc *scale, f fit, from, to float64, all bool) fit {
	module := f.pose.module(f.model.size)
	best := s.score(sc, f.model, f.pose, all)
	for step := from; step >= to; step /= 2 {
		for range 4 {
			better := false
			for move := range moves {
				for _, sign := range []float64{1, -1} {
					next := s.score(sc, f.model, best.pose.moved(move, sign*step*module), all)
					if next.whole > best.whole+1e-4 {
						best, better = next, true
						break
					}
				}
			}
			if !better {
				break
			}
		}
	}
	return best
}
