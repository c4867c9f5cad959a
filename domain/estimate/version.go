package estimate

// ModelVersion names the formulas; it moves when the same data gives other digits.
const ModelVersion = "1.1"
