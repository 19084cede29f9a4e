//! Bytes out: the plan drawn and written as PDF, SVG, DXF, STL, CSV, iCalendar and JSON.
