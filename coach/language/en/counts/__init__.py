"""How many: numbers of people as they are said, who has come or gone, and what is said of a class."""
