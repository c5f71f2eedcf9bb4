"""An editor's messages → questions and edits, answers → messages. Only this folder knows the protocol."""
