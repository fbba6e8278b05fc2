// The entry of the threads that trace patterns.
'use strict';
require('./start.cjs').servePatternCells();
