"""What each page of a board shows: from the plan and core's sections to the values that a template prints."""
