/** The shapes that leave by REST and live push. */
package io.loopwarden.view;
