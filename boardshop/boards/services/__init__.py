"""What a person does to a board, one function a verb, each one transaction."""
