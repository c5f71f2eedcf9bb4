"""What could be typed instead: for each diagnostic code, repairs to try, best first.

A module holds the codes of one kind of mistake; `cardrecipe.editor.mending.repairs` tries what they propose.
"""
