"""What a sketch shows to a drawing: settings (tracks, cords, banks …) and bodies from one small set of lines.

A view comes in, a drawing goes out. One hand: things are drawn with medium lines in ink, the circle and its centre with
thin soft ones, what is solid has hatching, and a letter stands at a thin line with an arrow head at each end.
"""
