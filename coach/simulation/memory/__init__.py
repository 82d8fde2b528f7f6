"""A memory that fades over days and grows with recall, after published models: for comparing ways to practise.

Pure: the time is handed in. Nothing measured with it says how fast people learn, only how designs compare if people
remember somewhat like this; so every figure from it is called simulated.
"""
