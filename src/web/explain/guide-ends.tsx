/** Where the guide begins and where it ends: the stop rule first, then a proof, or a person who is called. */
import { Button } from '@mantine/core';
import { Link } from 'wouter';
import { LOCAL_RULES, STOP_RULE } from '../../core/causes/index.ts';
import { Screen } from './guide-screen.tsx';

export function Begin({ sentence, onBegin }: { sentence: string; onBegin: () => void }) {
  return (
    <Screen title="One step at a time">
      <p className="first">{sentence}</p>
      <p className="caution">
        <strong>Stop rule.</strong> {STOP_RULE}
      </p>
      <p>{LOCAL_RULES}</p>
      <div className="answers">
        <Button onClick={onBegin}>Begin</Button>
      </div>
    </Screen>
  );
}

export function Stopped({ onAgain }: { onAgain: () => void }) {
  return (
    <Screen title="Stopped">
      <p className="first">High voltage off. Hands away. Call a trained person.</p>
      <p className="caution">{STOP_RULE}</p>
      <p>{LOCAL_RULES}</p>
      <div className="answers">
        <Button variant="default" onClick={onAgain}>
          Begin again
        </Button>
      </div>
    </Screen>
  );
}

export function Ended({ cured, onLook }: { cured: boolean; onLook: () => void }) {
  if (cured)
    return (
      <Screen title="It helped: now prove it">
        <p className="first">Let it run for ten minutes, then read that run.</p>
        <div className="answers">
          <Button component={Link} href="/read">
            Read the next run
          </Button>
        </div>
      </Screen>
    );
  return (
    <Screen title="Two attempts without help: stop here">
      <p className="first">
        High voltage off. Leave it, write down what was done, and call a trained person.
      </p>
      <div className="answers">
        <Button variant="default" onClick={onLook}>
          Only look on, touch nothing
        </Button>
      </div>
    </Screen>
  );
}
