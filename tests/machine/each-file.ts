/** What each test file begins with, also where it comes after another one that has loaded the modules already. */
import { clearedAtEnd } from './temporary-folder.ts';

clearedAtEnd();
