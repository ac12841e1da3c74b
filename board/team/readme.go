package team

// ReadMe says what the columns are.
const ReadMe = "README.txt"
