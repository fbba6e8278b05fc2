// The entry of a batch's worker threads.
'use strict';
require('./start.cjs').serveCases();
