package catalog

// claims are keys and the grades that bear them. A grade is its place in the order of
// ids, and grades are claimed for in that order.
type claims map[string][]int32

// claim adds a grade to a key, once.
func (c claims) claim(key string, grade int32) {
	if by := c[key]; len(by) == 0 || by[len(by)-1] != grade {
		c[key] = append(by, grade)
	}
}
