package main

// commands is the table of all commands, in the order of a season.
func commands() []command {
	return []command{
		demoCommand,
		initCommand,
		crossCommand,
		tagsCommand,
		bagsCommand,
		benchCommand,
		extractCommand,
		chillCommand,
		sowCommand,
		emergedCommand,
		prickCommand,
		scanCommand,
		stocktakeCommand,
		pageCommand,
		dueCommand,
		germinationCommand,
		planCommand,
		lineageCommand,
		labelsCommand,
		spoilCommand,
		voidCommand,
		passportCommand,
		rebuildCommand,
		checkCommand,
		historyCommand,
		undoCommand,
		mergeCommand,
		stockCommand,
		completionCommand,
		manualCommand,
		versionCommand,
		helpCommand,
	}
}
