"""The log of a month and its plans -> next month's loads, each with the rule and the cells it rests on."""
