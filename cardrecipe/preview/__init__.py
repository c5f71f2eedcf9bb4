"""The live preview: a recipe's page in the browser of this machine, made anew at each save."""
