"""The workbench in the browser and the same questions as JSON: both call only `lengthwise.questions` and the rooms under it."""
