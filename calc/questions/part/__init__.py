"""The whole part: from the stock through operations on both ends to the finished piece.

`calc.questions.part.job` has the nouns, `calc.questions.part.run.run` does a `Job` and answers with a `PartDone`;
nothing more is needed to ask about a part.
"""
